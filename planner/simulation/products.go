package simulation

import (
	"math"
	"math/rand/v2"
	"strconv"

	"lanewright/planner/demand"
	"lanewright/planner/plant"
	"lanewright/planner/search"
)

// uses returns the wants of the loops of a team in one replication: by their
// models, or by what their cells build where that is played. All loops of a cell
// are known before it builds its first unit, so that none misses any.
func (sc *script) uses(t *team, replication int) []wants {
	builds := map[plant.CellCode]*build{}
	list := make([]wants, len(t.loops))
	for at, i := range t.loops {
		l := &sc.loops[i]
		random := sc.stream("use", l, replication)
		mix := sc.mixes[l.Cell]
		if mix == nil {
			list[at] = newWants(l.Loop, random)
			continue
		}
		if builds[l.Cell] == nil {
			builds[l.Cell] = sc.newBuild(mix, replication)
		}
		list[at] = builds[l.Cell].feed(l, random)
	}
	return list
}

// layMixes finds what each cell builds, where products are played.
func (sc *script) layMixes() {
	if sc.settings.Use == UseModel {
		return
	}
	sc.mixes = map[plant.CellCode]*demand.Mix{}
	list := demand.Mixes(sc.in.Index, sc.in.Plant)
	for i := range list {
		sc.mixes[list[i].Cell] = &list[i]
	}
}

// build is a cell that builds its products day by day. Every unit takes its pieces
// at its moment, and the units of a day are spread evenly over it.
type build struct {
	// day is a working day in net nanoseconds, built how many are known.
	day      float64
	built    int
	levelled bool
	products []product
	// order draws the order of units.
	order *rand.Rand
	feeds map[demand.Key]*feed
}

// product is one product of a cell.
type product struct {
	mean, variation float64
	// carried is the part of a unit that was left over the day before.
	carried float64
	random  *rand.Rand
	takes   []demand.Take
	// feeds are where the takes go, nil where another team plays the loop; pieces
	// how many.
	feeds  []*feed
	pieces []float64
}

func (sc *script) newBuild(mix *demand.Mix, replication int) *build {
	number := strconv.Itoa(replication)
	b := &build{
		day: mix.Day.Float64() * 60e9, levelled: sc.settings.Use == UseLevelled, feeds: map[demand.Key]*feed{},
		order: search.Stream(sc.seed, "simulation/order/"+string(mix.Cell)+"/"+number),
	}
	for _, p := range mix.Products {
		// How many of a product are built on a day is the same in every cell.
		random := search.Stream(sc.seed, "simulation/product/"+string(p.Product)+"/"+number)
		b.products = append(b.products, product{
			mean: p.UnitsPerDay.Float64(), variation: p.Variation.Float64(), random: random, takes: p.Takes,
			feeds: make([]*feed, len(p.Takes)), pieces: make([]float64, len(p.Takes)),
		})
	}
	return b
}

// feed returns the wants of a loop of the cell. Its direct rates are used evenly.
func (b *build) feed(l *loopPlan, random *rand.Rand) *feed {
	f := &feed{build: b, pack: l.pack, wanted: float64(random.Int64N(l.Pack) + 1)}
	for _, s := range l.Sources {
		if s.Product == "" {
			f.even += s.Rate.Float64() / 60e9
		}
	}
	for i := range b.products {
		p := &b.products[i]
		for t, take := range p.takes {
			if take.Loop == l.Key {
				p.feeds[t], p.pieces[t] = f, take.Pieces.Float64()
			}
		}
	}
	b.feeds[l.Key] = f
	return f
}

// nextDay builds another day.
func (b *build) nextDay() {
	counts := make([]int, len(b.products))
	total := 0
	for i := range b.products {
		counts[i] = b.products[i].units()
		total += counts[i]
	}
	order := demand.Shuffled
	if b.levelled {
		order = func(counts []int, _ *rand.Rand) []int { return demand.Levelled(counts) }
	}
	start := float64(b.built) * b.day
	for i, p := range order(counts, b.order) {
		b.products[p].take(start + b.day*(float64(i)+0.5)/float64(total))
	}
	b.built++
}

// units draws how many units of a product are built on a day.
func (p *product) units() int {
	const most = 1 << 20
	n := max(0, p.mean*(1+p.variation*p.random.NormFloat64())) + p.carried
	whole := math.Floor(min(n, most))
	p.carried = min(n-whole, 1)
	return int(whole)
}

// take hands the pieces of one unit to the loops.
func (p *product) take(at float64) {
	for i, f := range p.feeds {
		if f != nil {
			f.list.push(taken{at, p.pieces[i]})
		}
	}
}

// taken are pieces that a unit takes.
type taken struct{ at, pieces float64 }

// feed is the use of one loop by what its cell builds.
type feed struct {
	build *build
	list  queue[taken]
	// even is what is used besides, in pieces a nanosecond.
	even float64
	// used are the pieces taken up to at; wanted is that at which the next container
	// is wanted.
	used, at, wanted, pack float64
}

// patience is how many days without any use are looked at before a loop is taken
// to be used no more: longer than any play.
const patience = 10_000

func (f *feed) next() (int64, float64) {
	for days := 0; days < patience; {
		if f.used >= f.wanted {
			lump := min(f.pack, f.used-f.wanted+1)
			f.wanted += f.pack
			return whole(f.at), lump
		}
		until, pieces := float64(f.build.built)*f.build.day, 0.0
		first := f.list.first()
		if first != nil {
			until, pieces = first.at, first.pieces
		}
		if reached := f.at + (f.wanted-f.used)/f.even; f.even > 0 && reached <= until {
			f.used, f.at = f.wanted, reached
			continue
		}
		f.used += f.even*(until-f.at) + pieces
		f.at = until
		if first != nil {
			f.list.pop()
		} else {
			f.build.nextDay()
			days++
		}
	}
	return never, 1
}
