"""The functions carried into LibreOffice Calc as an extension, built from their register."""
