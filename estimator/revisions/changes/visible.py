"""Which inputs a client may read of: what is measured and how it is built, never what it costs us."""

from ...model.plan import SAID_TO_CLIENT

CLIENT_LISTS = frozenset(
    {
        *("zones", "edges", "floor_features", "walls", "openings", "penetrations", "abutments"),
        *("tray_units", "parapets", "old_walls", "cut_ins", "tie_ins", "old_vents"),
    }
)
# What a supplier stocks decides this one, not the drawing.
HIDDEN_FIELDS = frozenset({("old_vents", "stock"), ("cut_ins", "unit_length")})
CLIENT_CELLS = frozenset(
    {
        *(i.name for i in SAID_TO_CLIENT),
        *("job_title", "client_name", "site_address", "prepared_by", "quote_date", "quote_valid"),
        *("basis_choice", "site_nation", "sheet_joints", "tray_joints", "weep_kind"),
        *("radon_area", "vat_status", "vat_percent", "vat_reason", "client_is_householder"),
    }
)
