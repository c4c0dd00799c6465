"""The page on which an aeroplane is traced from a picture."""
