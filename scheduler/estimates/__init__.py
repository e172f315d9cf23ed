"""What a method takes and costs on one surface that has the site to itself."""
