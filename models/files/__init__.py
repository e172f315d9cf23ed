"""The site folder: the only place that opens input files."""
