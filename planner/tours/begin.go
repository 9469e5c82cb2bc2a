package tours

func newTrajectory(f *frozen, set Settings, name string) *trajectory {
	t := &trajectory{kicks: newKicks(newState(f), newDice(set.Seed, name))}
	t.prices = f.hardPrices()
	t.hard = true
	t.begins(set.Start)
	if f.populous() {
		t.population, t.soft = newPopulation(f), f.softPrices().times(firstPrice)
	}
	if t.note(); f.soft() {
		t.soften(takenSmall)
	}
	return t
}

// begins sets the routes to begin with: those given, or new ones.
func (t *trajectory) begins(start []Route) {
	f := t.f
	if len(start) == 0 && !f.sided {
		t.savings()
	}
	at := int32(f.Labels)
	for _, r := range start {
		if r.Label > 0 {
			t.load(int32(r.Label-1), r.Stops)
		} else if len(r.Stops) > 0 {
			t.load(at, r.Stops)
			at++
		}
	}
	t.settle()
	t.insertMissing()
	for t.open > f.maxRoutes {
		t.dissolve()
	}
}

// insertMissing puts all stops that are out where they cost least.
func (t *trajectory) insertMissing() {
	t.begin()
	t.taken = t.taken[:0]
	for x := int32(1); int(x) < t.f.w; x++ {
		if t.nodes[x].route == out {
			t.taken = append(t.taken, x)
		}
	}
	t.putBack()
}

// dissolve deals the stops of the shortest route to the others.
func (t *trajectory) dissolve() {
	least := int32(out)
	for i := range t.routes {
		if n := t.routes[i].size; n > 0 && (least == out || n < t.routes[least].size) {
			least = int32(i)
		}
	}
	t.begin()
	t.save(least)
	t.taken = t.sequence(&t.routes[least], t.taken[:0])
	for _, x := range t.taken {
		t.take(x)
	}
	t.putBack()
}

func (t *trajectory) putBack() {
	t.recreate()
	t.keep()
}

// Breaches cost so many of the longest trip for a limit's full amount.
const hardPrice = 1000

func (f *frozen) hardPrices() prices {
	var longest int64 = 1
	for _, t := range f.trip {
		longest = max(longest, t)
	}
	p := prices{time: max(hardPrice*float64(longest)/float64(max(f.MaxTime, 1)), 1)}
	p.load = max(hardPrice*float64(longest)/float64(max(f.capacity, 1)), 1)
	p.other = p.load
	if len(f.Loads) == mostLoads {
		p.other = max(hardPrice*float64(longest)/float64(max(f.Loads[1].Capacity, 1)), 1)
	}
	return p
}

// softPrices are what self-adjusting prices begin with: a mean stop's load too
// much costs a mean leg, and time as much as the way in it.
func (f *frozen) softPrices() prices {
	mean := func(l []int64) float64 {
		var sum int64 = 1
		for _, x := range l {
			sum += x
		}
		return f.meanLeg * float64(f.Stops) / float64(sum)
	}
	p := prices{load: mean(f.demand), time: 1}
	if len(f.Loads) == mostLoads {
		p.other = mean(f.Loads[1].Mean)
	}
	return p
}
