// Package wire is the JSON of Lanewright: the shapes that other programs may
// rely on and their conversion from planner types. Nothing else in the house
// carries json tags.
//
// Lengths are in millimetres, masses in kilograms, times in minutes, rates per
// net hour, plant coordinates in metres, service levels in percent. Numbers are
// written in their shortest form that reads back to the same float64; a list is
// never null.
package wire
