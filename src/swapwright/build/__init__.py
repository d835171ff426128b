"""The build file: the car as written, resolved into a Car, edited and given a revision."""
