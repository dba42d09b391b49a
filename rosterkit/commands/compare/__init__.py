"""Two workbooks side by side: what became of engines, CVs and rows."""
