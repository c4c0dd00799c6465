"""Sentences that console, report and card share."""
