"""Two workbooks side by side: what became of engines, registers and rows."""
