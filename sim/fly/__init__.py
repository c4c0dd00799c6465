"""Everything packed and flown: assembling, trimming, linearising, one flight or many."""
