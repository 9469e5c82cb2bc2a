// Package units holds the typed quantities of the planner: lengths, masses,
// speeds, money and exact ratios.
//
// Lengths are whole nanometres and masses whole micrograms, so that both a
// millimetre and 1/64 in, both a gram and the avoirdupois pound, are exact
// (1 in = 25.4 mm and 1 lb = 453.59237 g by the international yard and pound
// agreement of 1959). Everything that ends in rounding up or down (containers,
// lanes, trains, rollers) stays a Ratio until that rounding: in float64 the
// textbook case 2000 x (0.08 + 0.02) x 1.10 / 22 rounds up to 11 containers
// instead of the printed 10.
package units
