"""One function for each thing that is done with files: what lies at the edges meets the pure middle here."""
