"""Whether a plate holds the cylinders ashore: stress and deflection of the bent sheet, beside the catalogue's."""
