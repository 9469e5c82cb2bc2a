package placement

import (
	"time"

	"lanewright/planner/demand"
	"lanewright/planner/plant"
)

// Deed is what one of several edits did to the loops that it names.
type Deed []Laying

// Laying is a loop before an edit and after it.
type Laying struct {
	Loop          demand.Key
	Before, After Lying
}

// Lying is how a loop is sized and where it lies: the first of its lanes on each level.
type Lying struct {
	Spots      []Spot
	Containers int
	Container  plant.ContainerCode
	Pack       int64
	Interval   time.Duration
}

// Deeds tells of each edit what it did, when edits are made one after the other on a
// layout on which others were made before. A loop that is not known is left out.
func Deeds(in Input, s Settings, l Layout, done, edits []Edit) []Deed {
	done, cells := reaching(in, l, done, edits)
	b := newBoard(in, s, l, cells)
	for _, e := range done {
		e.do(b)
	}
	list := make([]Deed, len(edits))
	for i, e := range edits {
		loops, _ := namedBy(e)
		for _, k := range loops {
			if b.loops[k] != nil {
				list[i] = append(list[i], Laying{Loop: k, Before: b.lying(k)})
			}
		}
		e.do(b)
		for n := range list[i] {
			list[i][n].After = b.lying(list[i][n].Loop)
		}
	}
	return list
}

func (b *board) lying(k demand.Key) Lying {
	loop := b.loops[k]
	l := Lying{Containers: loop.Containers, Container: loop.Container, Pack: loop.Pack, Interval: loop.Interval}
	for _, p := range b.places(k) {
		l.Spots = append(l.Spots, Spot{Rack: p.tier.rack.Rack, Level: p.tier.level.Level.Level, Lane: b.numberOf(p.tier, p.at)})
	}
	return l
}
