package importers

import (
	"fmt"
	"slices"
	"strconv"

	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// Codes of findings about flat tables.
const (
	CodeFlatContainer = "flat.container"
	CodeFlatNamed     = "flat.container-named"
)

// flatFacts are the rows of the flat tables before joining: of each a use, and the
// part and the container that it needs. They lie apart, so that joining can let
// go of one while the plant takes the others over as they are.
type flatFacts struct {
	rows  []*row
	usage []plant.Usage
	parts []plant.Part
	// containers are what rows say of theirs, without origin and each once, for
	// most rows say the same of few; container is where that of a row stands.
	containers []plant.Container
	container  []int
	known      map[plant.Container]int
}

// read reads the rows of t, unless it lacks a column that it needs.
func (f *flatFacts) read(t *table) {
	n := len(t.rows)
	f.rows, f.usage, f.parts, f.container = slices.Grow(f.rows, n), slices.Grow(f.usage, n), slices.Grow(f.parts, n), slices.Grow(f.container, n)
	for r := range t.stating() {
		f.take(r)
	}
}

// take reads one row.
func (f *flatFacts) take(r *row) {
	u := r.usage()
	p := plant.Part{Part: u.Part, Container: plant.ContainerCode(r.may("Container").code()), Origin: r.origin()}
	r.packOf(&p)
	c := plant.Container{Container: p.Container}
	sized := r.sized()
	if sized {
		c.Length, c.Width, c.Height = r.must("Length").measure(), r.must("Width").measure(), r.must("Height").measure()
	}
	r.natureOf(&c)
	if !sized && c.Container == "" {
		r.fail(CodeFlatContainer, "Part", finding.Finding{
			Summary: fmt.Sprintf("Part %s has no container", trim(string(u.Part))),
			Detail:  "The row gives neither a container code nor length, width and height.",
			Remedy:  "Fill in Container, or Length, Width and Height.",
		})
	}
	f.rows, f.usage, f.parts, f.container = append(f.rows, r), append(f.usage, u), append(f.parts, p), append(f.container, f.keep(c))
}

// keep returns where c stands among the containers.
func (f *flatFacts) keep(c plant.Container) int {
	at, ok := f.known[c]
	if !ok {
		if f.known == nil {
			f.known = map[plant.Container]int{}
		}
		at = len(f.containers)
		f.known[c] = at
		f.containers = append(f.containers, c)
	}
	return at
}

// sized reports whether the row gives the measures of its container.
func (r *row) sized() bool { return r.given("Length") || r.given("Width") || r.given("Height") }

// sizeCode names a container after its measures, where the table has no codes.
func sizeCode(c plant.Container) string {
	mm := func(l units.Length) string { return strconv.FormatFloat(l.MM(), 'f', -1, 64) }
	return fmt.Sprintf("%s x %s x %s mm", mm(c.Length), mm(c.Width), mm(c.Height))
}

// joinFlat takes parts, containers and use from the flat tables: containers
// first, for a row may name one that another row measures.
func (j *joiner) joinFlat() {
	flat := &j.rd.facts.flat
	containers, parts := newMerger(containerFields), newMerger(partFields)
	named := map[*table]int{}
	for i, r := range flat.rows {
		c, sized := flat.containers[flat.container[i]], r.sized()
		c.Origin = r.origin()
		if r.state != reported && sized && c.Container == "" {
			c.Container = plant.ContainerCode(sizeCode(c))
			flat.parts[i].Container = c.Container
			named[r.t]++
		}
		if c.Container != "" && sized {
			j.flatContainer(c, r, containers)
		}
	}
	flat.containers, flat.container, flat.known = nil, nil, nil
	// A row adds one part and one use at most, so those of the plant can take the
	// place of those that were read.
	if len(j.plant.Parts) == 0 {
		j.plant.Parts = flat.parts[:0]
	}
	if len(j.plant.Usage) == 0 {
		j.plant.Usage = flat.usage[:0]
	}
	for i, r := range flat.rows {
		if use := flat.usage[i]; j.flatPart(flat.parts[i], r, parts) {
			j.use(use, r)
		}
	}
	*flat = flatFacts{}
	for _, t := range j.rd.tables {
		if n := named[t]; n > 0 {
			j.rd.note(t, CodeFlatNamed, count(n, "row")+" without a container: containers were named after their measures",
				"Rows with the same length, width and height share a container.", "Add a column Container to name them yourself.")
		}
	}
}

func (j *joiner) flatContainer(c plant.Container, r *row, m *merger) {
	out := r.state == reported
	e, first := j.containers.define(r.may("Container"), "", string(c.Container), out)
	c.Container = plant.ContainerCode(e.code)
	switch {
	case out:
	case first:
		j.addContainer(c)
	default:
		m.merge("container "+e.code, &j.plant.Containers[j.containerAt[c.Container]], c, r, e.row)
	}
}

// flatPart enters the part of a flat row and reports whether its use counts.
func (j *joiner) flatPart(p plant.Part, r *row, m *merger) bool {
	if trim(string(p.Part)) == "" {
		return false
	}
	out := r.state == reported
	if !out {
		out = !named(j, j.containers, r, "Container", "", &p.Container, CodeUnknownContainer)
	}
	e, first := j.parts.define(r.must("Part"), "", string(p.Part), out)
	p.Part = plant.PartCode(e.code)
	switch {
	case out:
		return false
	case first:
		j.addPart(p)
		return true
	default:
		return m.merge("part "+e.code, &j.plant.Parts[j.partAt[p.Part]], p, r, e.row)
	}
}
