package demand

import (
	"math"
	"slices"
)

// kendall returns S: the pairs of use that rise less those that fall.
func kendall(use []float64) int64 {
	s := int64(0)
	for i, a := range use {
		for _, b := range use[i+1:] {
			switch {
			case b > a:
				s++
			case b < a:
				s--
			}
		}
	}
	return s
}

// chance returns the two-sided chance of S by the normal approximation, with S
// one nearer to 0 because it moves in steps of two.
func chance(s int64, use []float64) float64 {
	v := variance(use)
	if v <= 0 {
		return 1
	}
	z := max(0, math.Abs(float64(s))-1) / math.Sqrt(v)
	return math.Erfc(z / math.Sqrt2)
}

// variance returns that of S over all orders of use: [n(n−1)(2n+5) −
// Σ t(t−1)(2t+5)]/18 over the groups of t equal days.
func variance(use []float64) float64 {
	sum := steps(len(use))
	sorted := slices.Sorted(slices.Values(use))
	for i, j := 0, 0; i < len(sorted); i = j {
		for j < len(sorted) && sorted[j] == sorted[i] {
			j++
		}
		sum -= steps(j - i)
	}
	return sum / 18
}

func steps(n int) float64 { return float64(n) * float64(n-1) * float64(2*n+5) }

// slope returns the median of the slopes of all pairs of days, 0 for fewer than
// two days (Theil, 1950; Sen, J. of the American Statistical Association 63, 1968,
// 1379-1389; from memory).
func slope(at, use []float64) float64 {
	slopes := make([]float64, 0, len(use)*(len(use)-1)/2)
	for i := range use {
		for j := i + 1; j < len(use); j++ {
			if step := at[j] - at[i]; step > 0 {
				slopes = append(slopes, (use[j]-use[i])/step)
			}
		}
	}
	return median(slopes)
}

// median returns the middle of list, the mean of the two middle ones where their
// number is even, and 0 of none. It changes the order of list.
func median(list []float64) float64 {
	if len(list) == 0 {
		return 0
	}
	k := len(list) / 2
	middle := nth(list, k)
	if len(list)%2 == 1 {
		return middle
	}
	return (slices.Max(list[:k]) + middle) / 2
}

// nth returns the k-th smallest of list, counted from 0, and leaves what is not
// above it on its left (Hoare, Communications of the ACM 4(7), 1961, 321).
func nth(list []float64, k int) float64 {
	for lo, hi := 0, len(list)-1; lo < hi; {
		pivot := list[lo+(hi-lo)/2]
		i, j := lo, hi
		for i <= j {
			for list[i] < pivot {
				i++
			}
			for list[j] > pivot {
				j--
			}
			if i <= j {
				list[i], list[j] = list[j], list[i]
				i, j = i+1, j-1
			}
		}
		switch {
		case k <= j:
			hi = j
		case k >= i:
			lo = i
		default:
			return list[k]
		}
	}
	return list[k]
}
