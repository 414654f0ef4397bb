"""Files that come and go: the export file, its check, the merge, the spreadsheet's table."""
