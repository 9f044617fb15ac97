"""What can be cut and sewn: smallest features, checks with their cures, the stitching plan, lines of quilting."""
