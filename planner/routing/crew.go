package routing

import (
	"cmp"
	"slices"
	"time"
)

// hand is the time of one handler's rounds in an interval: as they are, and with a
// minute more for each, which is more than it waits until the next whole minute, at
// which the next may leave.
type hand struct{ busy, slots time.Duration }

func (h hand) plus(o hand) hand  { return hand{h.busy + o.busy, h.slots + o.slots} }
func (h hand) minus(o hand) hand { return hand{h.busy - o.busy, h.slots - o.slots} }

// over is by how much h passes what a handler has.
func (h hand) over(room hand) time.Duration {
	return max(h.busy-room.busy, 0) + max(h.slots-room.slots, 0)
}

func handOf(round time.Duration) hand { return hand{round, round + time.Minute} }

// roomOf is what a handler has in an interval of which he may be busy for so long. His
// rounds leave at whole minutes, each when the one before it is back and it has been
// loaded, so all of them take whole minutes, fewer than their slots: they fit into an
// interval of n whole minutes where their slots are at most n + 1.
func roomOf(busy, interval time.Duration) hand {
	return hand{busy, interval.Truncate(time.Minute) + time.Minute}
}

// slot is a time rounded up to whole minutes.
func slot(t time.Duration) time.Duration { return (t + time.Minute - 1) / time.Minute * time.Minute }

// room is what a handler of p has.
func (p *problem) room() hand { return roomOf(p.limit.round, p.group.interval) }

// hands gives the tours of p to few handlers: lists of their places in list. Whom they
// share with other parts is decided when all are found (see rota).
func (p *problem) hands(list []tour) [][]int { return newDealer(list, p.room()).share() }

// dealer deals rounds to handlers of one interval.
type dealer struct {
	rounds    []hand
	all, room hand
	// order are the rounds, longest first.
	order []int
	bins  [][]int
	sums  []hand
	// bundles are the choices of each handler, nil where they are not known.
	bundles [][]bundle
}

func newDealer(list []tour, room hand) *dealer {
	d := &dealer{room: room}
	for i, t := range list {
		d.order = append(d.order, i)
		d.rounds = append(d.rounds, handOf(t.round))
		d.all = d.all.plus(d.rounds[i])
	}
	slices.SortStableFunc(d.order, func(a, b int) int { return cmp.Compare(d.rounds[b].busy, d.rounds[a].busy) })
	return d
}

// least is how many handlers would be enough if no time were lost.
func (d *dealer) least() int {
	return max(ceil(d.all.busy, d.room.busy), ceil(d.all.slots, d.room.slots))
}

// fewNumbers is how many numbers of handlers are tried one after the other.
const fewNumbers = 4

// share looks for the least number of handlers between what the time needs and what
// first fit needs: by halves while there are many, then one after the other.
func (d *dealer) share() [][]int {
	best := d.firstFit()
	least := d.least()
	for len(best)-least > fewNumbers {
		if half := (least + len(best)) / 2; d.deal(half) {
			best = d.bins
		} else {
			least = half + 1
		}
	}
	for n := least; n < len(best); n++ {
		if d.deal(n) {
			return d.bins
		}
	}
	return best
}

// forced shares between so many handlers, who may have too much.
func (d *dealer) forced(handlers int) [][]int {
	if first := d.firstFit(); len(first) <= handlers {
		return first
	}
	d.deal(handlers)
	return d.bins
}

// ceil returns a/b rounded up, or 1 where b is not positive.
func ceil(a, b time.Duration) int {
	if b <= 0 {
		return 1
	}
	return int((a + b - 1) / b)
}

// firstFit gives each round to the first handler who has room.
func (d *dealer) firstFit() [][]int {
	var bins [][]int
	var sums []hand
	for _, i := range d.order {
		at := slices.IndexFunc(sums, func(h hand) bool { return h.plus(d.rounds[i]).over(d.room) == 0 })
		if at < 0 {
			at = len(bins)
			bins, sums = append(bins, nil), append(sums, hand{})
		}
		bins[at], sums[at] = append(bins[at], i), sums[at].plus(d.rounds[i])
	}
	return bins
}

// deal gives each round to the handler with the least to do, then exchanges rounds
// between the handler who has most too much and others, as long as that makes it less.
func (d *dealer) deal(handlers int) bool {
	d.bins, d.sums, d.bundles = make([][]int, handlers), make([]hand, handlers), make([][]bundle, handlers)
	for _, i := range d.order {
		least := 0
		for b := range d.sums {
			if d.sums[b].busy < d.sums[least].busy {
				least = b
			}
		}
		d.give(least, i)
	}
	for d.over() > 0 {
		most := d.busiest()
		if !slices.ContainsFunc(most[:min(len(most), fewBusiest)], d.relieve) {
			return false
		}
	}
	return true
}

// fewBusiest is how many of the handlers with most too much are relieved before a
// number of handlers is given up: what none of them can give, others seldom can.
const fewBusiest = 8

// over sums what all handlers have too much.
func (d *dealer) over() (sum time.Duration) {
	for _, h := range d.sums {
		sum += h.over(d.room)
	}
	return sum
}

// busiest are the handlers who have too much, the most first.
func (d *dealer) busiest() []int {
	var list []int
	for b, h := range d.sums {
		if h.over(d.room) > 0 {
			list = append(list, b)
		}
	}
	slices.SortStableFunc(list, func(a, b int) int { return cmp.Compare(d.sums[b].over(d.room), d.sums[a].over(d.room)) })
	return list
}

func (d *dealer) give(bin, round int) {
	d.bundles[bin] = nil
	d.bins[bin], d.sums[bin] = append(d.bins[bin], round), d.sums[bin].plus(d.rounds[round])
}

func (d *dealer) drop(bin, round int) {
	d.bundles[bin] = nil
	at := slices.Index(d.bins[bin], round)
	d.bins[bin], d.sums[bin] = slices.Delete(d.bins[bin], at, at+1), d.sums[bin].minus(d.rounds[round])
}

// swap is up to two rounds of a handler for up to two of another.
type swap struct {
	other      int
	mine, back []int
}

// relieve does the exchange that leaves one handler and another the least too much;
// false where none makes it less.
func (d *dealer) relieve(bin int) bool {
	var best swap
	gain := time.Duration(0)
	mine := d.choices(bin)
	for other := range d.bins {
		if d.sums[other].over(d.room) > 0 {
			continue
		}
		before := d.sums[bin].over(d.room)
		if d.most(bin, other) <= gain {
			continue
		}
		for _, back := range d.choices(other) {
			for _, m := range mine {
				after := d.sums[bin].minus(m.sum).plus(back.sum).over(d.room) + d.sums[other].plus(m.sum).minus(back.sum).over(d.room)
				if before-after > gain {
					gain, best = before-after, swap{other: other, mine: m.rounds, back: back.rounds}
				}
			}
		}
	}
	if gain == 0 {
		return false
	}
	for _, r := range best.mine {
		d.drop(bin, r)
		d.give(best.other, r)
	}
	for _, r := range best.back {
		d.drop(best.other, r)
		d.give(bin, r)
	}
	return true
}

// most is how much of what one handler has too much another, who has room, can take.
func (d *dealer) most(bin, other int) time.Duration {
	over, free := d.sums[bin].minus(d.room), d.room.minus(d.sums[other])
	return max(min(over.busy, free.busy), 0) + max(min(over.slots, free.slots), 0)
}

// bundle is some rounds of a handler and their time.
type bundle struct {
	rounds []int
	sum    hand
}

// choices are nothing, the single rounds and the pairs of rounds of a handler.
func (d *dealer) choices(bin int) []bundle {
	if d.bundles[bin] != nil {
		return d.bundles[bin]
	}
	list := []bundle{{}}
	for i, a := range d.bins[bin] {
		list = append(list, bundle{[]int{a}, d.rounds[a]})
		for _, b := range d.bins[bin][:i] {
			list = append(list, bundle{[]int{b, a}, d.rounds[a].plus(d.rounds[b])})
		}
	}
	d.bundles[bin] = list
	return list
}
