package recompute

import (
	"math/big"
	"slices"
)

// leastDays of history are needed for the empirical model.
const leastDays = 20

// past returns what a product or part has in the History sheet by date.
func (f *facts) past(column, code string) map[string]*big.Rat {
	days := map[string]*big.Rat{}
	for _, r := range f.sheets["History"] {
		if r[column] != code || column == "Product" && r["Part"] != "" {
			continue
		}
		if days[r["Date"]] == nil {
			days[r["Date"]] = new(big.Rat)
		}
		days[r["Date"]] = add(days[r["Date"]], r.rat("Units", "0"))
	}
	return days
}

func dates(days map[string]*big.Rat) []string {
	var list []string
	for d := range days {
		list = append(list, d)
	}
	slices.Sort(list)
	return list
}

// history returns the use of a loop on each day of history: its share of the
// part's own days, else what its products took on the days that all of them
// have, with its direct rows at their mean.
func (f *facts) history(k key) []*big.Rat {
	var days []*big.Rat
	if own := f.past("Part", k.part); len(own) > 0 {
		mine, all := new(big.Rat), new(big.Rat)
		for _, u := range f.sheets["Usage"] {
			if u["Part"] != k.part {
				continue
			}
			all = add(all, f.daily(u))
			if u["Cell"] == k.cell && u["Station"] == k.station {
				mine = add(mine, f.daily(u))
			}
		}
		for _, d := range dates(own) {
			if all.Sign() > 0 {
				days = append(days, quo(mul(own[d], mine), all))
			}
		}
		return days
	}
	direct, perUnit := new(big.Rat), map[string]*big.Rat{}
	for _, u := range f.sheets["Usage"] {
		switch p := u["Product"]; {
		case u["Part"] != k.part || u["Cell"] != k.cell || u["Station"] != k.station:
		case p == "":
			direct = add(direct, f.daily(u))
		default:
			if perUnit[p] == nil {
				perUnit[p] = new(big.Rat)
			}
			perUnit[p] = add(perUnit[p], mul(u.rat("Quantity per unit", "0"), add(ratio(1), quo(u.rat("Scrap", "0"), ratio(100)))))
		}
	}
	built, count := map[string]*big.Rat{}, map[string]int{}
	for p, pieces := range perUnit {
		for d, n := range f.past("Product", p) {
			if built[d] == nil {
				built[d] = direct
			}
			built[d] = add(built[d], mul(n, pieces))
			count[d]++
		}
	}
	for _, d := range dates(built) {
		if count[d] == len(perUnit) {
			days = append(days, built[d])
		}
	}
	return days
}

// windows are the uses over t net minutes from the start of each day of
// history: whole days, then a part of the next. The mean of all days stands for
// a time longer than the history.
func windows(days []*big.Rat, t, day *big.Rat) []*big.Rat {
	var list []*big.Rat
	for from := range days {
		use, left, i := new(big.Rat), t, from
		for ; left.Sign() > 0 && i < len(days); i++ {
			part := big.NewRat(1, 1)
			if left.Cmp(day) < 0 {
				part = quo(left, day)
			}
			use, left = add(use, mul(days[i], part)), add(left, mul(part, mul(day, ratio(-1))))
		}
		if left.Sign() <= 0 {
			list = append(list, use)
		}
	}
	if len(list) == 0 {
		sum := new(big.Rat)
		for _, d := range days {
			sum = add(sum, d)
		}
		list = append(list, quo(mul(quo(sum, ratio(int64(len(days)))), t), day))
	}
	slices.SortFunc(list, (*big.Rat).Cmp)
	return list
}
