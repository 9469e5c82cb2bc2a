package routing

import "time"

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
func (h staff) load() float64 { return h.loadWith(none, nil) }

// none stands for no round of a handler.
const none = -1

// loadWith is that without one of his rounds, by its place, and with another one.
func (h staff) loadWith(without int, with *tour) float64 {
	var all, shortest time.Duration
	add := func(t *tour) {
		if shortest == 0 || t.group.interval < shortest {
			shortest = t.group.interval
		}
		all += t.round
	}
	for i := range h.turns {
		if i != without {
			add(&h.turns[i].tour)
		}
	}
	if with != nil {
		add(with)
	}
	if shortest == 0 {
		return 0
	}
	return float64(all) / float64(shortest)
}

// toursWith are the rounds of a handler without one and with another.
func (h staff) toursWith(without int, with *tour) []tour {
	var list []tour
	for i, t := range h.turns {
		if i != without {
			list = append(list, t.tour)
		}
	}
	if with != nil {
		list = append(list, *with)
	}
	return list
}

// deal is a round of one handler for one or none of another, what both drive then,
// and how busy the busier is.
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
	mine, yours := b.list[from], b.list[to]
	for i := range mine.turns {
		if len(mine.turns) > 1 {
			b.consider(from, to, i, none, best)
		}
		for j := range yours.turns {
			b.consider(from, to, i, j, best)
		}
	}
}

// consider tries to give round i of one handler for round j of another.
func (b *balancer) consider(from, to, i, j int, best *deal) {
	mine, yours := b.list[from], b.list[to]
	given, back := &mine.turns[i].tour, (*tour)(nil)
	if j != none {
		back = &yours.turns[j].tour
	}
	busiest := max(mine.loadWith(i, back), yours.loadWith(j, given))
	if busiest >= best.busiest {
		return
	}
	d := deal{to, mine.toursWith(i, back), yours.toursWith(j, given), busiest}
	if b.can(d.mine) && b.can(d.yours) {
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
