package cutting

import (
	"lanewright/planner/internal/packing"
	"lanewright/planner/internal/patterns"
)

// enough is the number of new columns after which the other rooms wait for the
// next turn.
const enough = 6

// price looks in every room for a pattern that is worth more than its source
// costs, and where it has seen all rooms takes the bound that follows.
func (g *programme) price(care packing.Care) (found []int) {
	k, rooms := g.s.k, g.s.rooms
	price := make([]int64, len(k.size))
	goods := make([]packing.Good, len(g.at))
	for i, kind := range g.at {
		price[kind] = int64(max(0, min(dear, g.lp.Price[i])) * float64(priceUnit))
		goods[i] = packing.Good{Size: k.size[kind], Value: price[kind], Most: g.need[kind]}
	}
	top := make([]int64, len(k.sources))
	for n := range rooms {
		room := rooms[(g.turn+n)%len(rooms)]
		source, worth := g.cheapest(room)
		if source < 0 {
			continue
		}
		counts, _, upper, steps := packing.BestFill(k.sources[source].room, goods, worth+2, care)
		g.s.m.Spend(steps + 16)
		for _, i := range room {
			top[i] = upper
		}
		if counts != nil {
			found = append(found, g.s.learn(column{source, patterns.Uses(counts, g.at)}))
		}
		if len(found) >= enough && n+1 < len(rooms) {
			g.turn = (g.turn + n + 1) % len(rooms)
			return found
		}
	}
	d := k.safe(price, top, g.have)
	if b := k.bound(d.worth(g.need, g.have)); b > g.known.value || g.known.duals.price == nil {
		g.known = bounded{b, d}
	}
	return found
}

// cheapest is the source of a room that may be used at the least cost and rent,
// in price units; below 0 where none is left.
func (g *programme) cheapest(room []int) (source int, worth int64) {
	source = -1
	for _, i := range room {
		if g.have[i] == 0 {
			continue
		}
		w := g.s.k.scaled(g.s.k.sources[i].cost)
		if r := g.rent[i]; r >= 0 {
			w += int64(max(0, -g.lp.Price[r]) * float64(priceUnit))
		}
		if source < 0 || w < worth {
			source, worth = i, w
		}
	}
	return source, worth
}
