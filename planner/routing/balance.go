package routing

import (
	"slices"
	"time"
)

// balance evens out the handlers of each vehicle type: as long as the busiest one
// can hand a round to another, or exchange one with him, so that both are less busy
// than he was, the best such change is made. It is the last of the goals: neither
// handlers nor routes nor metres change.
func (w *work) balance(list []staff) {
	b := balancer{newRota(w.in.Plant.BusyLimit.Float64()), list}
	for _, v := range w.fleet {
		for range len(list) * balanceSteps {
			if !b.step(v) {
				break
			}
		}
	}
}

// balanceSteps bounds the changes, for each handler.
const balanceSteps = 4

type balancer struct {
	rota *rota
	list []staff
}

// load is the share of his time that a handler's rounds fill.
func (h staff) load() float64 {
	var tours []tour
	for _, t := range h.turns {
		tours = append(tours, t.tour)
	}
	return loadOf(tours)
}

func loadOf(tours []tour) float64 {
	var all, shortest time.Duration
	for _, t := range tours {
		if shortest == 0 || t.group.interval < shortest {
			shortest = t.group.interval
		}
		all += t.round
	}
	if shortest == 0 {
		return 0
	}
	return float64(all) / float64(shortest)
}

// deal is what two handlers drive after a change, and how busy the busier is.
type deal struct {
	other       int
	mine, yours []tour
	busiest     float64
}

// step makes the busiest handler of v less busy, if it can.
func (b *balancer) step(v *vehicle) bool {
	at, most := -1, 0.0
	for i, h := range b.list {
		if load := h.load(); h.vehicle == v && load > most {
			at, most = i, load
		}
	}
	if at < 0 {
		return false
	}
	best := deal{busiest: most - slack}
	for i, h := range b.list {
		if i != at && h.vehicle == v {
			b.exchange(at, i, &best)
		}
	}
	if best.mine == nil {
		return false
	}
	b.give(at, best.mine)
	b.give(best.other, best.yours)
	return true
}

// exchange tries to hand each round of one handler to another, for none or one of
// his.
func (b *balancer) exchange(from, to int, best *deal) {
	mine, yours := toursOf(b.list[from]), toursOf(b.list[to])
	for i, t := range mine {
		rest := slices.Delete(slices.Clone(mine), i, i+1)
		if len(rest) > 0 {
			b.consider(deal{other: to, mine: rest, yours: append(slices.Clone(yours), t)}, best)
		}
		for j, u := range yours {
			back := slices.Delete(slices.Clone(yours), j, j+1)
			b.consider(deal{other: to, mine: append(slices.Clone(rest), u), yours: append(back, t)}, best)
		}
	}
}

func (b *balancer) consider(d deal, best *deal) {
	d.busiest = max(loadOf(d.mine), loadOf(d.yours))
	if d.busiest < best.busiest && b.can(d.mine) && b.can(d.yours) {
		*best = d
	}
}

func (b *balancer) can(tours []tour) bool {
	_, ok := b.rota.turns(hardestFirst(tours))
	return ok
}

func (b *balancer) give(i int, tours []tour) {
	turns, _ := b.rota.turns(hardestFirst(tours))
	b.list[i].turns = b.rota.inOrder(turns)
}

func toursOf(h staff) []tour {
	var list []tour
	for _, t := range h.turns {
		list = append(list, t.tour)
	}
	return list
}
