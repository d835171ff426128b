"""The car on the road: air, road load, tyres, weight, brakes, traction, performance, energy."""
