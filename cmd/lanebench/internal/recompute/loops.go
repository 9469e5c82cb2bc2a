package recompute

import (
	"math"
	"math/big"
	"sort"
	"strings"
	"time"
)

func ratio(n int64) *big.Rat     { return new(big.Rat).SetInt64(n) }
func mul(a, b *big.Rat) *big.Rat { return new(big.Rat).Mul(a, b) }
func quo(a, b *big.Rat) *big.Rat { return new(big.Rat).Quo(a, b) }
func add(a, b *big.Rat) *big.Rat { return new(big.Rat).Add(a, b) }
func float(a *big.Rat) float64   { f, _ := a.Float64(); return f }
func ceil(a *big.Rat) int64 {
	q, m := new(big.Int).QuoRem(a.Num(), a.Denom(), new(big.Int))
	if m.Sign() > 0 {
		q.Add(q, big.NewInt(1))
	}
	return q.Int64()
}

// minute of the day of a text such as "06:00".
func minuteOf(s string) int {
	t, err := time.Parse("15:04", s)
	if err != nil {
		return 0
	}
	return t.Hour()*60 + t.Minute()
}

// workShift is one shift minute by minute: on[i] says whether the minute i
// after its start is worked.
type workShift struct {
	name  string
	start int
	days  map[string]bool
	on    []bool
}

func (s workShift) net() int {
	n := 0
	for _, w := range s.on {
		if w {
			n++
		}
	}
	return n
}

var week = []string{"Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"}

func daysOf(text string) map[string]bool {
	days := map[string]bool{}
	at := func(d string) int {
		for i, w := range week {
			if strings.HasPrefix(strings.ToLower(d), strings.ToLower(w)) {
				return i
			}
		}
		return 0
	}
	for _, part := range strings.Split(text, ",") {
		from, to, span := strings.Cut(strings.TrimSpace(part), "-")
		if !span {
			to = from
		}
		for i := at(from); ; i = (i + 1) % 7 {
			days[week[i]] = true
			if i == at(to) {
				break
			}
		}
	}
	return days
}

// shifts returns the plant's shifts in the order of the sheet.
func (f *facts) shifts() []*workShift {
	var list []*workShift
	byName := map[string]*workShift{}
	for _, r := range f.sheets["Shifts"] {
		s := byName[r["Shift"]]
		if s == nil {
			start, end := minuteOf(r["Start"]), minuteOf(r["End"])
			if end <= start {
				end += 24 * 60
			}
			s = &workShift{name: r["Shift"], start: start, days: daysOf(r["Days"]), on: make([]bool, end-start)}
			for i := range s.on {
				s.on[i] = true
			}
			byName[s.name] = s
			list = append(list, s)
		}
		if r["Break start"] == "" {
			continue
		}
		at := minuteOf(r["Break start"])
		if at < s.start {
			at += 24 * 60
		}
		for m := at; m < at+r.whole("Break minutes", 0); m++ {
			if i := m - s.start; i >= 0 && i < len(s.on) {
				s.on[i] = false
			}
		}
	}
	if len(list) == 0 {
		s := &workShift{name: "day", start: 360, days: daysOf("Mon-Fri"), on: make([]bool, 480)}
		for i := range s.on {
			s.on[i] = true
		}
		list = append(list, s)
	}
	return list
}

// cellShifts returns the shifts that a cell works, by start, then name.
func (f *facts) cellShifts(cell string) []*workShift {
	wanted := f.by["Cells"][cell].list("Shifts")
	var list []*workShift
	for _, s := range f.shifts() {
		ok := len(wanted) == 0
		for _, w := range wanted {
			ok = ok || w == s.name
		}
		if ok {
			list = append(list, s)
		}
	}
	sort.SliceStable(list, func(a, b int) bool {
		if list[a].start != list[b].start {
			return list[a].start < list[b].start
		}
		return list[a].name < list[b].name
	})
	return list
}

// dayOf returns H, the net minutes of one working day of a cell.
func (f *facts) dayOf(cell string) *big.Rat {
	total, days := 0, map[string]bool{}
	for _, s := range f.cellShifts(cell) {
		total += s.net() * len(s.days)
		for d := range s.days {
			days[d] = true
		}
	}
	if len(days) == 0 {
		return nil
	}
	return big.NewRat(int64(total), int64(len(days)))
}

// need is what the sheets say of one loop.
type need struct {
	rate, variance     *big.Rat // per net minute
	interval, response *big.Rat
	service, safety    *big.Rat
	model              string
	fixed              int
	day                *big.Rat   // net minutes
	days               []*big.Rat // use of each day of history, empirical only
	mean, covered      float64
	exact              *big.Rat // covered where no float is in it
	rule, containers   int64
}

// needs computes every loop of the Usage sheet.
func (f *facts) needs() map[key]*need {
	out := map[key]*need{}
	products := map[key]map[string]*big.Rat{}
	days := map[string]*big.Rat{}
	for _, u := range f.sheets["Usage"] {
		k := key{u["Part"], u["Cell"], u["Station"]}
		if days[k.cell] == nil {
			days[k.cell] = f.dayOf(k.cell)
		}
		h := days[k.cell]
		n := out[k]
		if n == nil {
			n = &need{rate: new(big.Rat), variance: new(big.Rat), service: new(big.Rat), safety: new(big.Rat)}
			out[k], products[k] = n, map[string]*big.Rat{}
		}
		daily := f.daily(u)
		if p := u["Product"]; p != "" {
			if products[k][p] == nil {
				products[k][p] = new(big.Rat)
			}
			products[k][p] = add(products[k][p], daily)
		} else {
			sd := mul(daily, u.rat("Variation", "0"))
			n.variance = add(n.variance, quo(mul(sd, sd), h))
		}
		n.rate = add(n.rate, quo(daily, h))
		f.ask(n, u)
	}
	for k, n := range out {
		h := days[k.cell]
		for p, daily := range products[k] {
			sd := mul(daily, f.by["Products"][p].rat("Variation", "0"))
			n.variance = add(n.variance, quo(mul(sd, sd), h))
		}
		f.size(k, n)
	}
	return out
}

// daily is the pieces that a row uses on a working day.
func (f *facts) daily(u row) *big.Rat {
	p := u["Product"]
	if p == "" {
		return mul(u.rat("Pieces per hour", "0"), quo(f.dayOf(u["Cell"]), ratio(60)))
	}
	scrap := add(ratio(1), quo(u.rat("Scrap", "0"), ratio(100)))
	return mul(mul(f.by["Products"][p].rat("Units per day", "0"), u.rat("Quantity per unit", "0")), scrap)
}

// caution orders the models that rows of one loop may name; the highest
// applies.
var caution = map[string]int{"steady": 1, "normal": 2, "poisson": 3, "negative-binomial": 4, "empirical": 5}

// ask applies one row's wishes: the shortest interval, the highest service
// level, the largest count.
func (f *facts) ask(n *need, u row) {
	interval := u.rat("Refill interval", f.setting("Refill interval", "60").RatString())
	service := u.rat("Service level", f.setting("Service level", "99.5").RatString())
	if f.settings["Service measure"] == "year" {
		service = f.setting("Service level", "99.5")
	}
	safety := u.rat("Safety", f.setting("Safety", "0").RatString())
	if n.interval == nil || interval.Cmp(n.interval) < 0 {
		n.interval = interval
	}
	if service.Cmp(n.service) > 0 {
		n.service = service
	}
	if safety.Cmp(n.safety) > 0 {
		n.safety = safety
	}
	if u["Response time"] != "" || f.settings["Response time"] != "" {
		r := u.rat("Response time", f.setting("Response time", "0").RatString())
		if n.response == nil || r.Cmp(n.response) > 0 {
			n.response = r
		}
	}
	if m := u["Demand model"]; m != "" && caution[m] > caution[n.model] {
		n.model = m
	}
	n.fixed = max(n.fixed, u.whole("Containers", 0))
}

func (f *facts) size(k key, n *need) {
	if n.response == nil {
		n.response = n.interval
	}
	t := add(n.interval, n.response)
	mu := mul(n.rate, t)
	n.mean = float(mu)
	if f.settings["Service measure"] == "year" {
		n.service = f.yearly(k.cell, n.interval)
	}
	f.model(k, n)
	switch {
	case n.model == "steady":
		n.exact = mul(mu, add(ratio(1), quo(n.safety, ratio(100))))
		n.covered = float(n.exact)
	default:
		n.covered = n.covers(t, f.settings["Service measure"] == "fill")
		if n.model == "normal" && n.variance.Sign() == 0 && f.settings["Service measure"] != "fill" {
			n.exact = mu
		}
	}
	pack := f.by["Parts"][k.part].rat("Standard pack", "1")
	cards := int64(math.Ceil(n.covered / float(pack) * (1 - 1e-12)))
	if n.exact != nil {
		cards = ceil(quo(n.exact, pack))
	}
	n.rule = max(2, cards+1)
	n.containers = n.rule
	if n.fixed > 0 {
		n.containers = int64(n.fixed)
	}
}

// model settles what a loop's use is taken for: what its rows name where that
// is possible, else steady or normal as it varies or not.
func (f *facts) model(k key, n *need) {
	n.day = f.dayOf(k.cell)
	if n.model == "empirical" {
		if n.days = f.history(k); len(n.days) < leastDays {
			n.model = ""
		}
	}
	if n.model == "negative-binomial" && n.variance.Cmp(n.rate) <= 0 {
		n.model = "poisson"
	}
	if n.model == "" {
		n.model = "normal"
		if n.variance.Sign() == 0 {
			n.model = "steady"
		}
	}
}

// quantile finds z with Φ(z) = p by bisection.
func quantile(p float64) float64 {
	lo, hi := -40.0, 40.0
	for range 200 {
		mid := (lo + hi) / 2
		if 0.5*math.Erfc(-mid/math.Sqrt2) < p {
			lo = mid
		} else {
			hi = mid
		}
	}
	return (lo + hi) / 2
}

func (j *judge) loops() {
	needs := j.facts.needs()
	for _, k := range sortedKeys(needs) {
		n, l := needs[k], j.loopOf[k]
		if l == nil {
			j.say("loop %v of the Usage sheet is not in the plan", k)
			continue
		}
		j.near(l.PiecesPerHour, 60*float(n.rate), "loop %v: pieces per hour", k)
		j.near(l.IntervalMin, float(n.interval), "loop %v: interval", k)
		j.near(l.ResponseMin, float(n.response), "loop %v: response", k)
		j.near(l.ServiceLevel, float(n.service), "loop %v: service level", k)
		j.near(l.MeanPieces, n.mean, "loop %v: mean pieces", k)
		model := n.model
		if n.fixed > 0 {
			model = "fixed"
		}
		j.near(l.CoveredPieces, n.covered, "loop %v: covered pieces", k)
		j.near(float64(l.Containers), float64(n.containers), "loop %v: containers", k)
		if l.DemandModel != model {
			j.say("loop %v: demand model %s, the sheets give %s", k, l.DemandModel, model)
		}
	}
	for k := range j.loopOf {
		if needs[k] == nil {
			j.say("loop %v of the plan is not in the Usage sheet", k)
		}
	}
}
