"""Motors, inverters, gears and regeneration: the drive from the dc terminals to the wheels."""
