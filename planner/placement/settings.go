package placement

import "time"

// Settings steer the placement search.
type Settings struct {
	// WalkCost turns walking into effort: kg per metre walked. 0.05 is the
	// value of the planning rules (common practice, no source).
	WalkCost float64
	// Steps is the number of local search steps spent per loop of a cell; the
	// search is repeatable because it counts steps, not time. 0 is the quick
	// mode: layouts are built and repaired, hardly searched, and bounds come
	// from the first relaxation only. They hold all the same.
	Steps int
	// ProofSteps is the number of steps that a cell may take to prove its effort
	// least, or to find less; a step is about as much work as filling one level.
	// Cells of up to 20 loops may take three times as many, and the first bids of
	// each set of racks a third of them in addition. The bounds of a cell
	// that takes more hold all the same.
	ProofSteps int
	// Keep names what stays where it lies in the current layout.
	Keep Keep
	// Limited says that no more than MoveLimit containers, 0 or more, are moved
	// against the current layout, except those that have no place where they lie.
	// A plant without a current layout has nothing to move.
	Limited   bool
	MoveLimit int
	// FrontagePrice is what a metre of frontage is worth in kg per net hour of
	// effort, 0 or more. A plan asks for the cheapest racks first, whatever it is;
	// the trade of frontage against effort marks what is best at that price.
	FrontagePrice float64
	// Moving says how long the steps of a move list take.
	Moving Moving
}

// Moving are the times of a move list. The defaults are common practice, no
// source: time a few moves and set your own.
type Moving struct {
	// Container is what taking one container out of a lane and putting it into
	// another takes, 20 s.
	Container time.Duration
	// Speed is how fast somebody walks with a cart, in m/s, above 0: 1 m/s.
	Speed float64
	// Distance is walked in metres where a rack's place or the market is not
	// known: 10 m.
	Distance float64
	// Shift is how much time a shift has for moves in one cell, above 0: 60 min.
	Shift time.Duration
}

// DefaultSettings returns the settings of a plan that asks for nothing else.
func DefaultSettings() Settings {
	return Settings{WalkCost: 0.05, Steps: 2000, ProofSteps: 3000, Moving: DefaultMoving()}
}

// DefaultMoving returns the times of a move list where nothing else is asked.
func DefaultMoving() Moving {
	return Moving{Container: 20 * time.Second, Speed: 1, Distance: 10, Shift: time.Hour}
}
