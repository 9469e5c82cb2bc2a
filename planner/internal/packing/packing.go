package packing

import (
	"fmt"
	"slices"

	"lanewright/planner/internal/patterns"
	"lanewright/planner/search"
)

// Part is a number of pieces in a bin; Piece is their place in the problem's
// list.
type Part struct {
	Piece int
	Count int64
}

// Bin is what one bin holds and how many bins hold the same.
type Bin struct {
	Times int64
	Parts []Part
}

// Result is a packing and what is known about it.
type Result struct {
	Bins []Bin
	// Count is the number of bins, Bound the number that no packing is below.
	Count, Bound int64
	Stopped      search.Stop
	// Steps is the number of elementary operations that were used.
	Steps int64
}

// Proved reports whether no packing has fewer bins.
func (r Result) Proved() bool { return r.Count == r.Bound }

// Check says what is wrong with the bins as a packing of the problem: one that
// is too full, or a piece packed too often or too seldom. It shares nothing
// with the search.
func Check(p Problem, bins []Bin) error {
	packed := make([]int64, len(p.Pieces))
	for b, bin := range bins {
		load := int64(0)
		for _, part := range bin.Parts {
			if part.Piece < 0 || part.Piece >= len(packed) || part.Count < 1 || bin.Times < 1 {
				return fmt.Errorf("bin %d holds %d of piece %d, %d times", b+1, part.Count, part.Piece+1, bin.Times)
			}
			load += p.Pieces[part.Piece].Size * part.Count
			packed[part.Piece] += part.Count * bin.Times
		}
		if load > p.Capacity {
			return fmt.Errorf("bin %d is filled to %d of %d", b+1, load, p.Capacity)
		}
	}
	for i, n := range packed {
		if n != p.Pieces[i].Count {
			return fmt.Errorf("%d of %d pieces number %d are packed", n, p.Pieces[i].Count, i+1)
		}
	}
	return nil
}

// fill is what so many bins hold alike, the largest kind first.
type fill struct {
	times int64
	uses  []patterns.Use
}

// bins is a packing while it is made.
type bins struct {
	fills []fill
	count int64
}

func (b *bins) add(times int64, uses []patterns.Use) {
	b.fills = append(b.fills, fill{times: times, uses: uses})
	b.count += times
}

func (b *bins) join(o bins) {
	b.fills = append(b.fills, o.fills...)
	b.count += o.count
}

func (b *bins) clone() bins { return bins{fills: slices.Clone(b.fills), count: b.count} }

// repeats is how often the needs ask for a bin of these pieces.
func repeats(need []int64, uses []patterns.Use) int64 {
	return patterns.Repeats(need, uses, MostPieces)
}

// named turns kinds back into the pieces of the problem: those of one size
// are used up in the order of the list.
func named(p Problem, k kinds, unit int64, b bins) []Bin {
	queue := make([][]Part, len(k.size))
	for i, c := range p.Pieces {
		if c.Count > 0 {
			at, _ := slices.BinarySearchFunc(k.size, c.Size/unit, func(s, t int64) int { return int(min(1, max(-1, t-s))) })
			queue[at] = append(queue[at], Part{Piece: i, Count: c.Count})
		}
	}
	var list []Bin
	for _, f := range b.fills {
		for f.times > 0 {
			bin := draw(queue, f)
			list = append(list, bin)
			f.times -= bin.Times
		}
	}
	return list
}

// draw takes the pieces of one bin from the queues, and of as many more bins
// as the same pieces can fill.
func draw(queue [][]Part, f fill) Bin {
	bin := Bin{Times: f.times}
	for _, u := range f.uses {
		left := u.N
		for _, q := range queue[u.Kind] {
			n := min(left, q.Count)
			bin.Parts = append(bin.Parts, Part{Piece: q.Piece, Count: n})
			bin.Times = min(bin.Times, q.Count/n)
			if left -= n; left == 0 {
				break
			}
		}
	}
	for _, u := range f.uses {
		left := u.N * bin.Times
		for left > 0 {
			q := &queue[u.Kind][0]
			n := min(left, q.Count)
			q.Count -= n
			if left -= n; q.Count == 0 {
				queue[u.Kind] = queue[u.Kind][1:]
			}
		}
	}
	return bin
}
