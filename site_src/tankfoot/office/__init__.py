"""What leaves the phone and comes back: the export file, its check, the merge, the spreadsheet's table."""
