"""The price: work on site, scope, quote, VAT, and what refuses a total."""
