"""What the site has, in horizon minutes: shifts, gangs, water, walks, heat bans."""
