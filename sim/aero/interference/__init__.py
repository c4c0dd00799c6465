"""What one part's air does to another: downwash, sidewash, shielding."""
