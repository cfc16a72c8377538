"""The words of the trade: read from the shipped file, found in texts, shown in a dialog."""
