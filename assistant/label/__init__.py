"""Labels for the bottles of a batch: what they say, how they lie on a sheet, and the PDF."""
