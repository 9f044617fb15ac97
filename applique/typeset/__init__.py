"""From words to shapes: fonts, shaping, outlines and the spacing of letters, all in font units."""
