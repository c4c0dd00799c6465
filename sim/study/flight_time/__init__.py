"""Flight time from flown work: what each kind takes, and a discharge added up."""
