"""Points, curves, polygons and offsets: they know nothing of letters or quilts."""
