"""Flying for a study: draws, batches on all cores, storage, flights flown again."""
