package skerrow

import "slices"

// laid is one row of today's layout.
type laid struct {
	rack        string
	level, lane int
	part        string
	station     string
	containers  int
}

// drawn are the cells whose layout somebody has written down.
var drawn = []string{"LENS", "REEF-1", "HARB", "SKER-1", "MAST", "HORN", "SEAL"}

// shelf is a level of a rack that is being filled.
type shelf struct {
	rack   rack
	level  int
	tall   float64
	length float64
	free   float64
	lanes  int
}

// today fills the racks of the drawn cells the way a supervisor does: in the
// order of the list, left to right, wherever the next part fits.
func (s *stock) today() []laid {
	var rows []laid
	for _, name := range drawn {
		shelves := shelvesOf(cellNamed(name))
		for _, l := range s.loops {
			if l.cell == name {
				rows = append(rows, put(l, shelves)...)
			}
		}
	}
	return rows
}

// shelvesOf lists the supply levels of a cell, leaving out racks with fixed
// guides.
func shelvesOf(c cell) []*shelf {
	var list []*shelf
	for _, r := range racksOf(c) {
		t := typeLetter(r.letter)
		for n, l := range t.levels {
			if _, fixed := fixedGuides[r.code]; l.kind == "supply" && !fixed {
				list = append(list, &shelf{rack: r, level: n + 1, tall: l.tall, length: t.length, free: t.usable})
			}
		}
	}
	return list
}

// put lays a loop on the first shelf that takes it whole; nothing where none
// does.
func put(l loop, shelves []*shelf) []laid {
	box := containerNamed(l.part.container)
	for _, s := range shelves {
		deep := int(s.length / box.long)
		if deep == 0 || s.tall < box.tall+60 || !slices.Contains(s.rack.serves(), l.station) {
			continue
		}
		count := l.standing()
		lanes := (count + deep - 1) / deep
		need := float64(lanes) * (box.wide + 20 + 10)
		if need > s.free {
			continue
		}
		s.free -= need
		var rows []laid
		for ; count > 0; count -= deep {
			s.lanes++
			rows = append(rows, laid{s.rack.code, s.level, s.lanes, l.part.code, l.station, min(count, deep)})
		}
		return rows
	}
	return nil
}
