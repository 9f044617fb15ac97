"""Every sentence that a maker or her customer reads."""
