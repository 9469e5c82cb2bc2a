// Package costing prices a plan for a year from the plant's own prices: handlers,
// vehicles, racks, floor and stock.
package costing
