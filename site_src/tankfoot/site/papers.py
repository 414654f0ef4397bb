"""The papers that a sheet may be printed on, and their sizes as CSS writes them."""

PAPERS = {"a5": "148mm 210mm", "half-letter": "5.5in 8.5in"}
