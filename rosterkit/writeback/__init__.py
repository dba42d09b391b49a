"""What goes into a member's workbook: computed columns, sheets and readings."""
