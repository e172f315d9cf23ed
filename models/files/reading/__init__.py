"""From a raw value to a record, and how every problem on the way is kept."""
