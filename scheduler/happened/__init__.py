"""What has happened on site: how a plan for the rest of the week takes it up."""
