"""The command merge: copies that members edited come into one workbook, and conflicts are resolved there."""
