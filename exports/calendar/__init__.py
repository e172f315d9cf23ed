"""Phone calendars, RFC 5545."""
