package recompute

import (
	"math"
	"math/big"
	"regexp"
	"slices"
	"strconv"
)

// back are the empties of one loop on one rack.
type back struct {
	n *need
	// pack is pieces per container, share the part of them that comes here.
	pack, share float64
	// kind is what stacks with what: the container and how it lies; length and
	// stack are of one stack.
	kind   [2]string
	length float64
	stack  int
}

// spread is a distribution: chances by length in mm, or by number.
type spread map[float64]float64

// emptied returns how many containers of b become empty in r minutes: every
// use, with every phase of the container in use.
func (b back) emptied(r float64) spread {
	out := spread{}
	mean, variance := float(b.n.rate)*r, float(b.n.variance)*r
	switch b.n.model {
	case "steady":
		out.phases(mean, b.pack, 1)
	case "normal":
		out.normal(mean, math.Sqrt(variance), b.pack)
	case "empirical":
		out.windows(b.n.days, r/float(b.n.day), b.pack)
	case "poisson":
		out.pieces(mean, mean, b.pack)
	default:
		out.pieces(mean, variance, b.pack)
	}
	return out.thin(b.share)
}

// phases adds a use of x pieces: with u of q taken out already, u anything from
// 0 to q, n become empty while nq ≤ u + x < (n+1)q.
func (s spread) phases(x, q, chance float64) {
	for n := math.Floor(x / q); n*q < x+q; n++ {
		if width := math.Min(q, (n+1)*q-x) - math.Max(0, n*q-x); width > 0 {
			s[n] += chance * width / q
		}
	}
}

// pieces goes through whole numbers of pieces used and taken out.
func (s spread) pieces(mean, variance, q float64) {
	var count []float64
	for x := 0; ; x++ {
		p := chance(float64(x), mean, variance)
		if float64(x) > mean && p < 1e-15 {
			break
		}
		for u := range int(q) {
			n := (x + u) / int(q)
			if n == len(count) {
				count = append(count, 0)
			}
			count[n] += p / q
		}
	}
	for n, p := range count {
		s[float64(n)] += p
	}
}

// normal goes through slices of the normal density; below 0 nothing is used.
func (s spread) normal(mean, sd, q float64) {
	if sd == 0 {
		s.phases(mean, q, 1)
		return
	}
	const slices, reach = 8000, 7.5
	sum, h := 0.0, 2*reach/slices
	at := func(i int) float64 { return -reach + (float64(i)+0.5)*h }
	for i := range slices {
		sum += math.Exp(-at(i) * at(i) / 2)
	}
	for i := range slices {
		s.phases(math.Max(0, mean+sd*at(i)), q, math.Exp(-at(i)*at(i)/2)/sum)
	}
}

// windows takes so many days from each day on, round and round.
func (s spread) windows(days []*big.Rat, long, q float64) {
	for from := range days {
		use, left := 0.0, long
		for i := from; left > 1e-12; i++ {
			part := math.Min(1, left)
			use += part * float(days[i%len(days)])
			left -= part
		}
		s.phases(use, q, 1/float64(len(days)))
	}
}

// thin leaves each container with the chance share.
func (s spread) thin(share float64) spread {
	if share == 1 {
		return s
	}
	out := spread{}
	for n, p := range s {
		ways := 1.0
		for k := 0.0; k <= n; k++ {
			out[k] += p * ways * math.Pow(share, k) * math.Pow(1-share, n-k)
			ways *= (n - k) / (k + 1)
		}
	}
	return out
}

// plus is the sum of two independent ones; what has next to no chance is left
// out.
func (s spread) plus(o spread) spread {
	out := spread{}
	for a, p := range s {
		for b, w := range o {
			if p*w > 1e-17 {
				out[a+b] += p * w
			}
		}
	}
	return out
}

// reached returns the least value that is not exceeded with the chance level.
func (s spread) reached(level float64) float64 {
	var values []float64
	for v := range s {
		values = append(values, v)
	}
	slices.Sort(values)
	sum := 0.0
	for _, v := range values {
		if sum += s[v]; sum >= level {
			return v
		}
	}
	return values[len(values)-1]
}

// lengths is what the empties of a rack take after r minutes: of a kind so many
// stacks as its empties need.
func lengths(list []back, r float64) spread {
	byKind := map[[2]string]spread{}
	one := map[[2]string]back{}
	var kinds [][2]string
	for _, b := range list {
		if byKind[b.kind] == nil {
			byKind[b.kind], one[b.kind] = spread{0: 1}, b
			kinds = append(kinds, b.kind)
		}
		byKind[b.kind] = byKind[b.kind].plus(b.emptied(r))
	}
	sum := spread{0: 1}
	for _, k := range kinds {
		stacks := spread{}
		for n, p := range byKind[k] {
			stacks[math.Ceil(n/float64(one[k].stack))*one[k].length] += p
		}
		sum = sum.plus(stacks)
	}
	return sum
}

// longest is the longest row of stacks that a lane takes.
func longest(lane float64, of []float64) float64 {
	if len(of) == 0 {
		return 0
	}
	best := 0.0
	for used := 0.0; used <= lane+1e-9; used += of[0] {
		best = math.Max(best, used+longest(lane-used, of[1:]))
	}
	return best
}

// returns gathers the empties of a rack, and the length that its lanes take.
func (j *judge) returns(rack *planRack, needs map[key]*need, on map[key]map[string]int) (list []back, lanes []float64) {
	clear := new(big.Rat)
	for _, v := range j.facts.levels[rack.RackType] {
		if h := v.rat("Clear height", "0"); v["Kind"] == "return" && (clear.Sign() == 0 || h.Cmp(clear) < 0) {
			clear = h
		}
	}
	seen := map[key]bool{}
	for _, l := range j.plan.Lanes {
		if l.Rack != rack.Rack || l.Part == "" || seen[l.key()] {
			continue
		}
		seen[l.key()] = true
		if b, ok := j.back(l, clear, needs, on); ok {
			list = append(list, b)
		}
	}
	sides := map[float64]bool{}
	for _, b := range list {
		sides[b.length] = true
	}
	var of []float64
	for s := range sides {
		of = append(of, s)
	}
	for _, l := range j.plan.Lanes {
		if l.Rack == rack.Rack && l.Kind == "return" {
			lanes = append(lanes, longest(j.levelOf(spot{l.Rack, l.Level}).num("Lane length", 0), of))
		}
	}
	return list, lanes
}

// back is what the loop of a lane brings back to its rack.
func (j *judge) back(l planLane, clear *big.Rat, needs map[key]*need, on map[key]map[string]int) (back, bool) {
	part := j.facts.by["Parts"][l.Part]
	box := j.facts.by["Containers"][part["Container"]]
	if needs[l.key()] == nil || !box.yes("Returnable", true) {
		return back{}, false
	}
	all := 0
	for _, n := range on[l.key()] {
		all += n
	}
	b := back{n: needs[l.key()], pack: part.num("Standard pack", 1), share: float64(on[l.key()][l.Rack]) / float64(all), kind: [2]string{part["Container"], l.FlowSide}, stack: 1}
	b.length = box.num("Length", 0)
	if l.FlowSide == "width" {
		b.length = box.num("Width", 0)
	}
	nests, height := box.rat("Nests", "1"), box.rat("Height", "0")
	for top := add(height, mul(nests, height)); nests.Cmp(ratio(1)) < 0 && top.Cmp(clear) <= 0; top = add(top, mul(nests, height)) {
		b.stack++
	}
	return b, true
}

// served is the interval at which a rack is visited: the longest of its routes,
// else the shortest of its loops.
func (j *judge) served(rack string, needs map[key]*need) float64 {
	every := 0.0
	for _, r := range j.plan.Routes {
		for _, s := range r.Stops {
			if s.Rack == rack {
				every = math.Max(every, r.IntervalMin)
			}
		}
	}
	if every > 0 {
		return every
	}
	every = math.Inf(1)
	for _, l := range j.plan.Lanes {
		if l.Rack == rack && l.Part != "" && needs[l.key()] != nil {
			every = math.Min(every, float(needs[l.key()].interval))
		}
	}
	return every
}

// empties compares the return lanes of every rack with what waits there before
// a visit, and the finding of the plan with that.
func (j *judge) empties() {
	found := map[string]planFinding{}
	for _, f := range j.plan.Findings {
		if f.Code == "empties.return-lanes-short" || f.Code == "empties.no-return-level" {
			found[f.Subject.Rack] = f
		}
	}
	needs, on := j.facts.needs(), j.onRack()
	for i := range j.plan.Racks {
		r := &j.plan.Racks[i]
		list, lanes := j.returns(r, needs, on)
		f, says := found[r.Rack]
		if len(list) == 0 {
			if says {
				j.say("rack %s: %s, but no empties come back", r.Rack, f.Code)
			}
			continue
		}
		j.returned(r.Rack, list, lanes, j.served(r.Rack, needs), f)
	}
}

// near the service level chances may be added up differently: the need is then
// between that of a little less and that of a little more.
const little = 1e-6

func (j *judge) returned(rack string, list []back, lanes []float64, every float64, f planFinding) {
	level, have, best := j.facts.share("Service level", "99.5"), 0.0, 0.0
	for _, l := range lanes {
		have, best = have+l, math.Max(best, l)
	}
	all := lengths(list, every)
	low, high := all.reached(level-little), all.reached(level+little)
	code := ""
	switch {
	case len(lanes) == 0:
		code = "empties.no-return-level"
	case high > have+1e-6 && (low > have+1e-6 || f.Code != ""):
		code = "empties.return-lanes-short"
	}
	if f.Code != code {
		j.say("rack %s: the plan finds %q, empties of %v mm on return lanes for %v give %q", rack, f.Code, high, have, code)
		return
	}
	if code == "" {
		return
	}
	if off := rounding(list, have); math.Abs(f.Limit-have) > off {
		j.say("rack %s: the plan says return lanes for %v mm, the sheets give %v", rack, f.Limit, have)
	}
	if f.Value < low-1e-6 || f.Value > high+1+rounding(list, high) {
		j.say("rack %s: the plan says %v mm of empties, the sheets give %v to %v", rack, f.Value, low, high)
	}
	if code == "empties.return-lanes-short" {
		j.remedy(rack, list, have, every, f)
		if n, ok := number(f.Remedy, `(\d+) lanes? would do`); ok && (have+(n-float64(len(lanes)))*best < low-1e-6 || have+(n-1-float64(len(lanes)))*best >= high-1e-6) {
			j.say("rack %s: %v return lanes would not just hold %v mm", rack, n, high)
		}
	}
}

// rounding is how far sums of lengths may be apart when each length is rounded
// to whole millimetres: not at all where all are whole.
func rounding(list []back, length float64) float64 {
	off, shortest := 1e-6, math.Inf(1)
	for _, b := range list {
		shortest = math.Min(shortest, b.length)
		off = math.Max(off, math.Ceil(b.length)-b.length)
	}
	return off * math.Max(1, length/shortest)
}

// remedy checks that the interval a finding names fits and a minute more does
// not; where it names none, that not even a minute fits.
func (j *judge) remedy(rack string, list []back, have, every float64, f planFinding) {
	level := j.facts.share("Service level", "99.5")
	m, _ := number(f.Remedy, `every (\d+) min`)
	if m > 0 && lengths(list, m).reached(level-little) > have+1e-6 || m >= every {
		j.say("rack %s: a visit every %v min would not do", rack, m)
	}
	if m+1 < every && lengths(list, m+1).reached(level+little) <= have+1e-6 {
		j.say("rack %s: a visit every %v min would do as well as every %v", rack, m+1, m)
	}
}

// number reads the first number that a pattern finds in a text.
func number(text, pattern string) (float64, bool) {
	m := regexp.MustCompile(pattern).FindStringSubmatch(text)
	if m == nil {
		return 0, false
	}
	n, err := strconv.ParseFloat(m[1], 64)
	return n, err == nil
}
