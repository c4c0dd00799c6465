"""What a command gives back to the shell."""

DONE, BAD_INPUT, NOT_MET, INTERRUPTED = 0, 2, 3, 130
