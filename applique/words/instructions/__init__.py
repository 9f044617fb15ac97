"""The instructions in words, chapter by chapter. Lengths are in the `units` of the design."""
