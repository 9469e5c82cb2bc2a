package placement

import "math/rand/v2"

// steady looks for a layout nearer to today's that is better in the goals, moves
// priced, than st, which was found without regard to moves: so racks and splits
// are never more for the price. It begins with today's layout, gives lanes to what
// is new or does not fit its place any more, and improves that on the racks of st.
func (c *cell) steady(st *state, rng *rand.Rand, steps int, stop func() bool) *state {
	if c.movePrice == 0 || stop() {
		return st
	}
	st = st.clone()
	st.descend(stop)
	goal := st.key()
	near := newReplan(c, c.today, st.added).st
	if near.unplaced() > goal.unplaced {
		near.squeezeCalmly(rng, c.squeezes(), goal.unplaced, stop)
		near.divide(near.short())
	}
	if near.key().splits > goal.splits {
		near = near.joined(func(st *state) { st.squeezeCalmly(rng, 2*c.squeezes(), goal.unplaced, stop) })
	}
	near.descend(stop)
	near.regroup(rng, steps, true, stop)
	near.descend(stop)
	// A rack that today's layout needs and st leaves empty costs something too.
	near, st = near.withoutEmptyRacks(), st.withoutEmptyRacks()
	if near.key().compare(st.key()) < 0 {
		return near
	}
	return st
}
