"""Phone calendars (RFC 5545): one for each crew, one for each surface."""

from .crew import crew_calendar as crew_calendar
from .feeds import calendars as calendars
from .ics_file import FeedRange as FeedRange
from .surface import surface_calendar as surface_calendar
