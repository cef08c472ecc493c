"""Size over time: what is known of a plant's height and width, the curve fitted to it, and the band around the curve."""
