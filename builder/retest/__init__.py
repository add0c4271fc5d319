"""The way back: a test day is judged, appended to the profile, and the booklet is made again."""
