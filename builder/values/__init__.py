"""Values that every room speaks in: masses, problems, places in files, names of form fields."""
