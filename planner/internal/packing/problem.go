// Package packing puts pieces of given sizes into as few bins of one capacity
// as it can, and says below which number nobody gets. Pieces of equal size are
// handled by their number, so that a thousand alike cost no more than one.
package packing

import (
	"cmp"
	"errors"
	"fmt"
	"slices"

	"lanewright/planner/internal/patterns"
)

// Piece is a size and how many pieces of it there are. A size is a whole
// number of any unit, the capacity's; it is at least 1 and at most the
// capacity. A count of 0 asks for nothing.
type Piece struct {
	Size, Count int64
}

// Problem asks for bins of one capacity that hold all pieces.
type Problem struct {
	Capacity int64
	Pieces   []Piece
}

// Of is the problem of packing single pieces of the given sizes.
func Of(capacity int64, sizes ...int64) Problem {
	p := Problem{Capacity: capacity, Pieces: make([]Piece, len(sizes))}
	for i, s := range sizes {
		p.Pieces[i] = Piece{Size: s, Count: 1}
	}
	return p
}

// ErrProblem marks problems that have no meaning or no packing.
var ErrProblem = errors.New("not a packing problem")

// Limits of what is computed exactly in 64 bits: the largest capacity, the
// most pieces and the most sizes that differ.
const (
	MostCapacity = int64(1) << 50
	MostPieces   = 1_000_000_000
	MostSizes    = 20_000
)

// Check says in words what is wrong with a problem.
func (p Problem) Check() error {
	if p.Capacity < 1 || p.Capacity > MostCapacity {
		return fmt.Errorf("%w: the capacity must be 1 to %d: got %d", ErrProblem, MostCapacity, p.Capacity)
	}
	sum := int64(0)
	for i, c := range p.Pieces {
		switch {
		case c.Size < 1:
			return fmt.Errorf("%w: piece %d has size %d; sizes must be 1 or more", ErrProblem, i+1, c.Size)
		case c.Size > p.Capacity:
			return fmt.Errorf("%w: piece %d of size %d fits no bin of capacity %d", ErrProblem, i+1, c.Size, p.Capacity)
		case c.Count < 0:
			return fmt.Errorf("%w: piece %d has the count %d; counts must be 0 or more", ErrProblem, i+1, c.Count)
		case c.Count > MostPieces-sum:
			return fmt.Errorf("%w: there are more than %d pieces", ErrProblem, MostPieces)
		}
		sum += c.Count
	}
	return p.checkSizes()
}

// checkSizes says that too many sizes differ.
func (p Problem) checkSizes() error {
	sizes := map[int64]bool{}
	for _, c := range p.Pieces {
		sizes[c.Size] = true
		if len(sizes) > MostSizes {
			return fmt.Errorf("%w: there are more than %d different sizes", ErrProblem, MostSizes)
		}
	}
	return nil
}

// kinds is a problem as the algorithms see it: the sizes that differ, the
// largest first, and how many pieces of each are to be packed.
type kinds struct {
	room int64
	size []int64
	need []int64
}

// newKinds merges equal sizes and divides out what all have in common.
func newKinds(p Problem) kinds {
	list := slices.DeleteFunc(slices.Clone(p.Pieces), func(c Piece) bool { return c.Count == 0 })
	slices.SortFunc(list, func(a, b Piece) int { return cmp.Compare(b.Size, a.Size) })
	k := kinds{room: p.Capacity}
	unit := int64(0)
	for _, c := range list {
		unit = patterns.Divisor(unit, c.Size)
		if n := len(k.size); n > 0 && k.size[n-1] == c.Size {
			k.need[n-1] += c.Count
			continue
		}
		k.size, k.need = append(k.size, c.Size), append(k.need, c.Count)
	}
	for i := range k.size {
		k.size[i] /= unit
	}
	if unit > 1 {
		k.room /= unit
	}
	return k
}

// pieces is the number of pieces to pack.
func (k kinds) pieces() int64 { return patterns.Pieces(k.need) }

// with is the same sizes with other needs.
func (k kinds) with(need []int64) kinds {
	return kinds{room: k.room, size: k.size, need: need}
}

// narrow leaves out the kinds nobody needs; at says where the others were.
func (k kinds) narrow() (sub kinds, at []int) {
	sub.room = k.room
	for i, n := range k.need {
		if n > 0 {
			sub.size, sub.need = append(sub.size, k.size[i]), append(sub.need, n)
			at = append(at, i)
		}
	}
	return sub, at
}

// most is how many pieces of kind i one bin can hold.
func (k kinds) most(i int) int64 { return min(k.need[i], k.room/k.size[i]) }
