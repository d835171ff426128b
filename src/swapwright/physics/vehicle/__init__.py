"""The car on the road: air, road load, tyres, weight, traction, performance, energy."""
