"""Why a gap is there, by the audit's own count."""
