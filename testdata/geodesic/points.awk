# Prints 250 lines "latitude longitude azimuth length" for GeodSolve: 220 lengths
# spread evenly from 2 to 120 mm, and 30 more from 120 to 150 mm, at places spread
# evenly over a sphere, one in ten of them within 4 degrees of a pole. The random
# numbers are Park and Miller's minimal standard generator, so that any awk prints
# the same ones. With longest, lengths are spread evenly from 2 mm to that instead.
function random() { x = (16807 * x) % 2147483647; return x / 2147483647 }
BEGIN {
	x = seed
	for (i = 0; i < 20; i++) random()
	for (i = 0; i < 250; i++) {
		s = 2 * random() - 1
		lat = atan2(s, sqrt(1 - s * s)) * 57.29577951308232
		if (i % 10 == 0) lat = (i % 20 ? 1 : -1) * (90 - 4 * s * s)
		lon = 360 * random() - 180
		azimuth = 360 * random() - 180
		len = i < 220 ? 2 + 118 * i / 219 : 120 + 30 * random()
		if (longest) len = 2 + (longest - 2) * i / 249
		printf "%.6f %.6f %.6f %.6f\n", lat, lon, azimuth, len
	}
}
