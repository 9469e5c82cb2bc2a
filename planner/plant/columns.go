package plant

import "lanewright/planner/finding"

// At narrows an origin that names a row to the cell of that row in which the
// canonical column field stood. Where the sheet had no such column, or the
// origin already names a column, it returns o as it is.
func (p *Plant) At(o finding.Origin, field string) finding.Origin {
	if o.Row == 0 || o.Column != "" {
		return o
	}
	for _, c := range p.Columns {
		if c.Field == field && c.Sheet == o.Sheet && c.File == o.File {
			o.Column = c.Letters
			return o
		}
	}
	return o
}
