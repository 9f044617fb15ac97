"""Every sentence about the sewing that a maker reads, made from a fact and units, to be said in a language.

Nothing here decides or measures: what is said is what the fact holds.
"""
