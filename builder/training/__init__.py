"""The mathematics of strength training, each formula with its source; no file and no clock is read here."""
