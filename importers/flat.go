package importers

import (
	"fmt"
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

// flatRow is one row of a flat table: a use, and the part and container that
// it needs.
type flatRow struct {
	usage     plant.Usage
	part      plant.Part
	container plant.Container
	// sized says that the row gives the measures of its container.
	sized bool
}

func (r *row) flat() flatRow {
	f := flatRow{usage: r.usage()}
	f.part = plant.Part{Part: f.usage.Part, Container: plant.ContainerCode(r.may("Container").code()), Origin: r.origin()}
	r.packOf(&f.part)
	f.container = plant.Container{Container: f.part.Container, Origin: r.origin()}
	f.sized = r.given("Length") || r.given("Width") || r.given("Height")
	if f.sized {
		c := &f.container
		c.Length, c.Width, c.Height = r.must("Length").measure(), r.must("Width").measure(), r.must("Height").measure()
	}
	r.natureOf(&f.container)
	if !f.sized && f.container.Container == "" {
		r.fail(CodeFlatContainer, "Part", finding.Finding{
			Summary: fmt.Sprintf("Part %s has no container", trim(string(f.usage.Part))),
			Detail:  "The row gives neither a container code nor length, width and height.",
			Remedy:  "Fill in Container, or Length, Width and Height.",
		})
	}
	return f
}

// sizeCode names a container after its measures, where the table has no codes.
func sizeCode(c plant.Container) string {
	mm := func(l units.Length) string { return strconv.FormatFloat(l.MM(), 'f', -1, 64) }
	return fmt.Sprintf("%s x %s x %s mm", mm(c.Length), mm(c.Width), mm(c.Height))
}

// joinFlat takes parts, containers and use from the flat tables: containers
// first, for a row may name one that another row measures.
func (j *joiner) joinFlat() {
	rows := j.rd.facts.flat
	containers, parts := newMerger(containerFields), newMerger(partFields)
	named := map[*table]int{}
	for i := range rows {
		f := &rows[i]
		if f.row.state != reported && f.v.sized && f.v.container.Container == "" {
			f.v.container.Container = plant.ContainerCode(sizeCode(f.v.container))
			f.v.part.Container = f.v.container.Container
			named[f.row.t]++
		}
		if f.v.container.Container != "" && f.v.sized {
			j.flatContainer(f, containers)
		}
	}
	for _, f := range rows {
		if j.flatPart(f, parts) {
			j.use(f.v.usage, f.row)
		}
	}
	for _, t := range j.rd.tables {
		if n := named[t]; n > 0 {
			j.rd.note(t, CodeFlatNamed, count(n, "row")+" without a container: containers were named after their measures",
				"Rows with the same length, width and height share a container.", "Add a column Container to name them yourself.")
		}
	}
}

func (j *joiner) flatContainer(f *fact[flatRow], m *merger) {
	out := f.row.state == reported
	e, first := j.containers.define(f.row.may("Container"), "", string(f.v.container.Container), out)
	f.v.container.Container = plant.ContainerCode(e.code)
	switch {
	case out:
	case first:
		j.addContainer(f.v.container)
	default:
		at := j.containerAt[f.v.container.Container]
		m.merge("container "+e.code, &j.plant.Containers[at], f.v.container, f.row, e.row)
	}
}

// flatPart enters the part of a flat row and reports whether its use counts.
func (j *joiner) flatPart(f fact[flatRow], m *merger) bool {
	p := f.v.part
	if trim(string(p.Part)) == "" {
		return false
	}
	out := f.row.state == reported
	if !out {
		out = !named(j, j.containers, f.row, "Container", "", &p.Container, CodeUnknownContainer)
	}
	e, first := j.parts.define(f.row.must("Part"), "", string(p.Part), out)
	p.Part = plant.PartCode(e.code)
	switch {
	case out:
		return false
	case first:
		j.addPart(p)
		return true
	default:
		return m.merge("part "+e.code, &j.plant.Parts[j.partAt[p.Part]], p, f.row, e.row)
	}
}
