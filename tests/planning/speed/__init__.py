"""Speed: timing, curves, tables, trims, consists, and a simulated engine that the results are keyed into."""
