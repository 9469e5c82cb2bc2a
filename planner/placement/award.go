package placement

// award searches for a better layout, and proves that there is none, from where
// an auction ended: a layout costs the auction's bound and, for each level, what
// its loops are worth less there than the best set that fits. Only sets that
// are worth no more less than the gap need be looked at.
type award struct {
	a      *auction
	gap    float64
	nodes  int
	stands []stand
	path   []chosen
	// lots are those of the bundles of each stall.
	lots [][][]int32
	// left are the containers of each loop that do not lie yet, parts in how
	// many lots it lies.
	left  []int64
	parts []int
	// split counts the loops that fit a level as a whole and are split.
	split int64
	// all are the loops that must lie, count how many bundles have each.
	all   crowd
	count []int
	// only finds the bundles of each stall by their loops, where none is in
	// parts: on the last level all that is left must lie.
	only []map[crowd]bundle
	// kept and rows are buffers by depth.
	kept [][]bundle
	rows [][]stand
	// found is called with a layout and the part of the gap it leaves; it
	// returns the new gap.
	found func(path []chosen, left float64) float64
}

// stand is a stall with the bundles of loops that may still lie on one of so
// many levels.
type stand struct {
	stall, times int
	list         []bundle
	// may are the loops that may lie there.
	may crowd
}

// chosen is a bundle on one level of a stall.
type chosen struct {
	stall int
	lots  []int32
}

// awardLoops bounds the cells that are searched.
const awardLoops = 128

// newAward prepares the search for what is left of the gap, in cells of at most
// awardLoops; the bundles of each stall are added to it.
func (a *auction) newAward(gap float64) *award {
	w := &award{a: a, gap: gap, lots: make([][][]int32, len(a.stalls)), left: make([]int64, len(a.c.loops)), parts: make([]int, len(a.c.loops)), count: make([]int, awardLoops)}
	if a.unsplit && a.c.bigs == 0 {
		w.only = make([]map[crowd]bundle, len(a.stalls))
	}
	for _, i := range a.loops {
		w.left[i], w.all = a.c.loops[i].k, w.all.with(i)
	}
	return w
}

// add lays out the bundles of a stall, the best first.
func (w *award) add(s stand, lots [][]int32) {
	if w.only != nil {
		w.only[s.stall] = make(map[crowd]bundle, len(s.list))
		for _, b := range s.list {
			w.only[s.stall][b.whole] = b
		}
	}
	w.lots[s.stall] = lots
	w.stands = append(w.stands, s)
}

// awardWork is how much work a bundle is that is looked at.
const awardWork = 5

// search looks through all layouts within the gap with so many steps; false
// where that takes more.
func (w *award) search(nodes int) bool {
	w.nodes = nodes
	switch {
	case len(w.stands) > 0:
		w.try(w.stands, crowd{}, crowd{}, 0)
	case w.all == crowd{}:
		w.gap = w.found(nil, 0)
	}
	*w.a.steps -= (nodes - w.nodes) * awardWork / workPerStep
	return w.nodes >= 0
}

// try lays bundles on the stands that are left when the loops of done lie, parts
// of those of begun, and so much of the gap is spent.
func (w *award) try(left []stand, done, begun crowd, spent float64) {
	if w.nodes -= 20; w.nodes < 0 {
		return
	}
	left, spare := w.compatible(left, done, begun, spent)
	if left == nil {
		return
	}
	if done == w.all {
		// Only empty bundles are left.
		w.gap = w.found(w.path, spare)
		return
	}
	if i := w.rarest(left, done, begun); i >= 0 {
		w.cover(left, i, done, begun, spent, spare)
	} else {
		w.level(left, done, begun, spent, spare)
	}
}

// rarest is the loop not yet begun that lies whole in the fewest bundles and in
// parts in none; −1 without one.
func (w *award) rarest(left []stand, done, begun crowd) int {
	parts := begun.or(done)
	clear(w.count)
	for s := range left {
		for k := range left[s].list {
			b := &left[s].list[k]
			parts = parts.or(b.parts)
			b.whole.tally(w.count)
		}
	}
	best := -1
	for _, i := range w.a.loops {
		if !parts.has(i) && (best < 0 || w.count[i] < w.count[best]) {
			best = i
		}
	}
	return best
}

// cover lays each bundle that has loop i: just one lies in every layout.
func (w *award) cover(left []stand, i int, done, begun crowd, spent, spare float64) {
	for s := range left {
		from := left[s]
		own := from.list[0].less
		for k := range from.list {
			b := &from.list[k]
			if b.less-own > w.gap-spare || w.nodes < 0 {
				break
			}
			if !b.whole.has(i) {
				continue
			}
			if from.times > 1 {
				left[s].times--
				w.lay(left, from.stall, *b, done, begun, spent)
			} else {
				last := len(left) - 1
				left[s] = left[last]
				w.lay(left[:last], from.stall, *b, done, begun, spent)
				left[last] = left[s]
			}
			left[s] = from
		}
	}
}

// level lays each bundle of the level that has the fewest.
func (w *award) level(left []stand, done, begun crowd, spent, spare float64) {
	k := 0
	for s := range left {
		if len(left[s].list) < len(left[k].list) {
			k = s
		}
	}
	from := left[k]
	own := from.list[0].less
	left[k] = left[len(left)-1]
	rest := left[:len(left)-1]
	for n, b := range from.list {
		if b.less-own > w.gap-spare || w.nodes < 0 {
			return
		}
		if from.times > 1 {
			// Levels that are alike take their bundles in the order of the list.
			rest = append(rest[:len(left)-1], stand{stall: from.stall, times: from.times - 1, list: from.list[n:]})
		}
		w.lay(rest, from.stall, b, done, begun, spent)
	}
}

// lay lays a bundle and goes on.
func (w *award) lay(rest []stand, stall int, b bundle, done, begun crowd, spent float64) {
	w.path = append(w.path, chosen{stall, w.lots[stall][b.lots]})
	done = done.or(b.whole)
	fits := true
	if b.parts != (crowd{}) {
		done, begun, fits = w.part(stall, b, done, begun, 1)
	}
	switch {
	case !fits:
	case w.only != nil && len(rest) == 1 && rest[0].times == 1:
		if last, ok := w.only[rest[0].stall][w.all.without(done)]; ok && spent+b.less+last.less <= w.gap {
			w.path = append(w.path, chosen{rest[0].stall, w.lots[rest[0].stall][last.lots]})
			w.gap = w.found(w.path, spent+b.less+last.less)
			w.path = w.path[:len(w.path)-1]
		}
	case len(rest) == 0:
		if done == w.all && spent+b.less <= w.gap {
			w.gap = w.found(w.path, spent+b.less)
		}
	default:
		w.try(rest, done, begun, spent+b.less)
	}
	if b.parts != (crowd{}) {
		w.part(stall, b, done, begun, -1)
	}
	w.path = w.path[:len(w.path)-1]
}

// part lays the parts of a bundle, sign 1, or takes them off, sign −1; false
// where loops are split too often.
func (w *award) part(stall int, b bundle, done, begun crowd, sign int64) (crowd, crowd, bool) {
	t := &w.a.stalls[stall]
	ok := true
	for _, k := range w.lots[stall][b.lots] {
		l := &t.lots[k]
		if !b.parts.has(l.loop) {
			continue
		}
		w.left[l.loop] -= sign * l.n
		ok = ok && w.left[l.loop] >= 0
		if t.col >= 0 && !w.a.c.big[l.loop] {
			before := w.parts[l.loop]
			w.parts[l.loop] += int(sign)
			if max(before, w.parts[l.loop]) == 2 && min(before, w.parts[l.loop]) == 1 {
				w.split += sign
			}
		}
		begun = begun.with(l.loop)
		if w.left[l.loop] == 0 {
			done = done.with(l.loop)
		}
	}
	return done, begun, ok && w.split <= w.a.splits
}

// compatible keeps the bundles that share no loop with done and that the gap
// allows, and returns what at least is spent with them; nil where there is no
// layout. It writes into the buffers of its depth.
func (w *award) compatible(left []stand, done, begun crowd, spent float64) ([]stand, float64) {
	depth := len(w.path)
	for len(w.kept) <= depth {
		w.kept, w.rows = append(w.kept, nil), append(w.rows, nil)
	}
	list := append(w.rows[depth][:0], left...)
	w.rows[depth] = list
	kept, busy := w.kept[depth][:0], done.or(begun)
	for s := range list {
		from := len(kept)
		w.nodes -= len(list[s].list)
		for k := range list[s].list {
			b := &list[s].list[k]
			if b.whole.meets(busy) || b.parts.meets(done) || b.parts.meets(begun) && !w.remain(list[s].stall, b) {
				continue
			}
			if from < len(kept) && b.less-kept[from].less > w.gap-spent {
				break
			}
			kept = append(kept, *b)
		}
		if list[s].list = kept[from:]; from == len(kept) {
			w.kept[depth] = kept
			return nil, 0
		}
		spent += float64(list[s].times) * kept[from].less
	}
	w.kept[depth] = kept
	for range 4 {
		more, ok, changed := w.force(list, done, spent)
		spent = more
		if !ok || spent > w.gap {
			return nil, 0
		}
		if !changed {
			break
		}
	}
	return list, spent
}

// force drops bundles that cost more than the gap and, where a loop can lie on
// one level only, those without it. It returns what at least is spent, whether
// every loop has a place, and whether anything changed.
func (w *award) force(list []stand, done crowd, spent float64) (float64, bool, bool) {
	once, twice := done, crowd{}
	for s := range list {
		may := crowd{}
		own := list[s].list[0].less
		for k := range list[s].list {
			if b := &list[s].list[k]; b.less-own > w.gap-spent {
				list[s].list = list[s].list[:k]
				break
			}
			may = may.or(list[s].list[k].whole).or(list[s].list[k].parts)
		}
		list[s].may = may
		twice = twice.or(once.and(may))
		once = once.or(may)
	}
	if once != w.all {
		return spent, false, false
	}
	changed := false
	for s := range list {
		t := &list[s]
		must := t.may.without(twice)
		if t.times > 1 || must == (crowd{}) {
			continue
		}
		own, n := t.list[0].less, 0
		for k := range t.list {
			if b := &t.list[k]; must.within(b.whole.or(b.parts)) {
				t.list[n] = *b
				n++
			}
		}
		if n == 0 {
			return spent, false, false
		}
		changed = changed || n < len(t.list)
		t.list = t.list[:n]
		spent += t.list[0].less - own
	}
	return spent, true, changed
}

// remain reports whether as much of each loop of which a bundle has a part still
// waits for a place.
func (w *award) remain(stall int, b *bundle) bool {
	t := &w.a.stalls[stall]
	for _, k := range w.lots[stall][b.lots] {
		if l := &t.lots[k]; l.n > w.left[l.loop] && b.parts.has(l.loop) {
			return false
		}
	}
	return true
}

// effortOf is the effort of the bundles of a path.
func (a *auction) effortOf(path []chosen) float64 {
	sum := 0.0
	for _, p := range path {
		for _, k := range p.lots {
			sum += a.stalls[p.stall].lots[k].effort
		}
	}
	return sum
}

// layout lays the bundles of a path on a set of added racks; nil where a rule
// forbids it. It is sure of that unless only the order of lanes was not found, or racks
// that are alike could share their levels otherwise.
func (a *auction) layout(path []chosen, set []int) (st *state, sure bool) {
	st = newState(a.c, set)
	twin := a.c.twins()
	taken := make([]bool, len(st.shelves))
	for _, p := range path {
		t := &a.stalls[p.stall]
		if t.col < 0 {
			continue
		}
		s := 0
		for taken[s] || st.shelves[s].col != t.col && (a.racked[t.base] || twin[st.shelves[s].col] != t.col) {
			s++
		}
		taken[s] = true
		for _, k := range p.lots {
			st.put(t.lots[k].loop, t.lots[k].n, s)
		}
	}
	return st.legal()
}

// legal returns the layout where it obeys every rule, else nil. It is sure of
// that where masses are too large, but for racks that are alike: with their levels
// dealt otherwise the masses may be in order.
func (st *state) legal() (*state, bool) {
	for r := range st.racks {
		if base := st.racks[r].base; st.racks[r].mass > st.c.bases[base].load {
			alike := 0
			for k := range st.racks {
				if st.racks[k].base == base {
					alike++
				}
			}
			return nil, alike == 1
		}
	}
	for s := range st.shelves {
		sh := &st.shelves[s]
		if sh.mass > st.c.cols[sh.col].mass {
			return nil, true
		}
		if len(sh.items) == 0 {
			continue
		}
		st.seats.invite(st, s)
		if !st.seats.arrange(&st.c.cols[sh.col]) {
			return nil, false
		}
	}
	return st, true
}
