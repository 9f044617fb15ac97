"""The rest of the quilt: cutting the panel, borders, binding, backing, batting, and the size of it all."""
