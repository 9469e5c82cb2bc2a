// Package costing prices a plan for a year from the plant's own prices: handlers,
// vehicles, racks, floor and stock. A price that the plant does not give makes its
// part of the cost unknown, never 0.
package costing
