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
	// ProofSteps is the number of steps that a cell of up to 20 loops may take to
	// prove its effort least, or to find less; a step is about as much work as
	// filling one level. A cell of n loops may take 20/n of them, one of more than 60
	// only the square of 60/n of that, and the first bids of each set of racks a third
	// in addition, 500 to 10,000. In a plant of several cells each may take 1/n of that,
	// n being their number or the next power of 2, so that one cell more or less mostly
	// changes nothing in the others. The bounds of a cell that would take more hold all
	// the same. A cell that may take many is also searched longer, and racks that just
	// do not hold all are filled again for longer before others are added.
	ProofSteps int
	// Keep names what stays where it lies in the current layout.
	Keep Keep
	// Limited says that no more than MoveLimit containers, 0 or more, are moved
	// against the current layout, except those that have no place where they lie.
	// A plant without a current layout has nothing to move.
	Limited   bool
	MoveLimit int
	// MovePrice is the effort in kg per net hour, 0 or more, that a plan must save
	// for each container it moves against the current layout. 0.1 wins back what a
	// move takes, two lifts of a container of about 10 kg, in 200 net hours, some
	// five weeks of one shift (common practice, no source). It comes after racks
	// and splits; 0 saves moves only among layouts of the same effort. With a limit
	// on moves nothing is priced: what may move, moves for what it gains.
	MovePrice float64
	// FrontagePrice is what a metre of frontage that racks are added for is worth,
	// in kg per net hour of effort a metre: at 8, a rack of 1.5 m is added where it
	// saves more than 12 kg of effort an hour. 0, the default, asks for the
	// cheapest racks first and for effort last. Above 0 the order of goals 2 to 4
	// is replaced: of the layouts tried that leave the fewest containers without a
	// lane, each cell gets the one of least price · metres added + effort, and
	// takes some six to ten times as long. A limit on moves comes before it.
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
	return Settings{WalkCost: 0.05, Steps: 2000, ProofSteps: 2_000_000, MovePrice: 0.1, Moving: DefaultMoving()}
}

// among returns the settings of each of so many cells.
func (s Settings) among(cells int) Settings {
	n := 1
	for n < cells {
		n *= 2
	}
	s.ProofSteps /= n
	return s
}

// DefaultMoving returns the times of a move list where nothing else is asked.
func DefaultMoving() Moving {
	return Moving{Container: 20 * time.Second, Speed: 1, Distance: 10, Shift: time.Hour}
}
