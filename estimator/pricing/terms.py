"""What a quote says beside its figures: whose it is, what it refers to, when and on which terms."""

from ..language import text

COMPANY_NUMBER = text(
    "firm_company_number", "Company number", "Blank where there is none.", required=False, since=7
)
VAT_NUMBER = text(
    "firm_vat_number", "VAT number", "Blank where the firm is not registered.", required=False,
    since=7,
)  # fmt: skip
PAYMENT = text(
    "payment_terms", "Payment", "As 30 % at the start, the rest 14 days after completion.",
    required=False, since=7,
)  # fmt: skip

# Of the firm: the same from job to job.
FIRM = (
    text("firm_name", "Firm", "As it is to head the quote.", required=False, since=7),
    text("firm_address", "Address", "Of the firm, in one line.", required=False, since=7),
    text("firm_telephone", "Telephone", required=False, since=7),
    COMPANY_NUMBER,
    VAT_NUMBER,
    PAYMENT,
)  # fmt: skip

# Of the one job.
REFERENCES = (
    text("quote_number", "Quote number", "Your own number for this quote.",
         required=False, since=7),
    text("drawings_used", "Drawings", "Numbers and revisions of the drawings that were measured.",
         required=False, since=7),
    text("work_start", "Start", "When the work can start.", required=False, since=7),
    text("work_duration", "Duration", "How long the work takes, as 3 weeks.",
         required=False, since=7),
)  # fmt: skip
