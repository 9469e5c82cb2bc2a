// Package patterns is what packing and cutting have in common: patterns of
// pieces in a bin or a stock, a linear programme over them, its rounding, and the
// count of steps.
package patterns

// Use is a number of pieces of one kind, 1 or more, in a bin or a stock. Kinds
// are places in a list of sizes, the largest first.
type Use struct {
	Kind int
	N    int64
}

// Uses lists what is above 0 of counts; at says which kinds the counts are of.
func Uses(counts []int64, at []int) []Use {
	var list []Use
	for i, n := range counts {
		if n > 0 {
			list = append(list, Use{Kind: at[i], N: n})
		}
	}
	return list
}

// Every is the places of a list of so many.
func Every(n int) []int {
	list := make([]int, n)
	for i := range list {
		list[i] = i
	}
	return list
}

// Adapted puts the next smaller pieces that are needed in the place of those
// that are not: in a relaxation a pattern stands for these too.
func Adapted(need []int64, uses []Use) []Use {
	count := make([]int64, len(need))
	for _, u := range uses {
		left := u.N
		for kind := u.Kind; kind < len(need) && left > 0; kind++ {
			n := min(left, need[kind]-count[kind])
			count[kind] += n
			left -= n
		}
	}
	return Uses(count, Every(len(need)))
}

// Take lowers the needs by a pattern used so many times.
func Take(need []int64, times int64, uses []Use) {
	for _, u := range uses {
		need[u.Kind] -= times * u.N
	}
}

// Repeats is how often the needs ask for a pattern, at most so often.
func Repeats(need []int64, uses []Use, most int64) int64 {
	for _, u := range uses {
		most = min(most, need[u.Kind]/u.N)
	}
	return most
}

// Pieces is the number of pieces that needs ask for.
func Pieces(need []int64) int64 {
	sum := int64(0)
	for _, n := range need {
		sum += n
	}
	return sum
}

// Divisor is the greatest common divisor.
func Divisor(a, b int64) int64 {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}
