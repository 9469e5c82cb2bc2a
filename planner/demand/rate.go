package demand

import (
	"fmt"

	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// daily returns the pieces that row u uses per working day of h net minutes. A
// direct rate is what is used, scrap included: the rule adds it as it stands.
// Where the history of the part decides, each of its rows keeps its share.
func (b *builder) daily(u *plant.Usage, h units.Ratio) units.Ratio {
	return b.scaled(u.Part, b.plan(u, h))
}

// plan returns the same by the row and the figures of its product alone.
func (b *builder) plan(u *plant.Usage, h units.Ratio) units.Ratio {
	if u.Product != "" {
		return b.product(u.Product).mean.Mul(pieces(u))
	}
	return direct(u, h)
}

// direct returns the pieces a day of a direct row as its sheet gives them.
func direct(u *plant.Usage, h units.Ratio) units.Ratio {
	if u.PerHour.IsZero() {
		return u.PerDay
	}
	return plus(u.PerHour.Mul(h).Div(units.Int(60)), u.PerDay)
}

// perUnit returns the pieces that row u takes for one unit of its product,
// scrap included.
func (b *builder) perUnit(u *plant.Usage) units.Ratio { return b.scaled(u.Part, pieces(u)) }

// pieces returns a·(1+s) of a row of a product.
func pieces(u *plant.Usage) units.Ratio {
	if u.Scrap.IsZero() {
		return u.PerUnit
	}
	return u.PerUnit.Mul(units.Int(1).Add(u.Scrap))
}

// scaled returns n times what the history of part makes of a planned piece.
func (b *builder) scaled(part plant.PartCode, n units.Ratio) units.Ratio {
	if t, ok := b.taken.parts[part]; ok && t.meanTaken {
		return n.Mul(t.factor)
	}
	return n
}

// plus returns a + b. Most sums here have one term, and that one stays as it is.
func plus(a, b units.Ratio) units.Ratio {
	switch {
	case a.IsZero():
		return b
	case b.IsZero():
		return a
	}
	return a.Add(b)
}

// spread returns the variance of the daily use of rows, in pieces²: Σ (cv·use)²
// over what varies independently. Rows of one product vary together, and so do
// those whose variation is that of the part's history; other direct rows vary
// each for itself. Rows stand as compareRows orders them.
func (b *builder) spread(rows []*plant.Usage, daily []units.Ratio) units.Ratio {
	var sum, together units.Ratio
	square := func(use, cv units.Ratio) {
		if !cv.IsZero() {
			sd := use.Mul(cv)
			sum = plus(sum, sd.Mul(sd))
		}
	}
	for i := 0; i < len(rows); {
		u, use := rows[i], daily[i]
		for i++; u.Product != "" && i < len(rows) && rows[i].Product == u.Product; i++ {
			use = plus(use, daily[i])
		}
		switch {
		case b.taken.together(u):
			together = plus(together, use)
		case u.Product != "":
			square(use, b.product(u.Product).variation)
		default:
			square(use, u.Variation)
		}
	}
	square(together, b.taken.parts[rows[0].Part].variation)
	return sum
}

// scrap says of a direct row that its scrap is not added.
func (b *builder) scrap(l *Loop, u *plant.Usage) {
	if u.Product != "" || u.Scrap.IsZero() {
		return
	}
	b.findings = append(b.findings, finding.Finding{
		Severity: finding.Note, Code: CodeScrapOnRate,
		Summary: fmt.Sprintf("The scrap of %.4g %% is not added to the direct rate of part %s at station %s of cell %s", 100*u.Scrap.Float64(), u.Part, u.Station, u.Cell),
		Detail:  "Scrap is added to pieces per unit of a product. Pieces per hour or day are taken as what is really used, scrap included.",
		Remedy:  "Put the scrap into the rate, or leave the scrap empty in this row.",
		Origin:  u.Origin, Subject: l.subject(),
	})
}
