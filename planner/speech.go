package planner

import (
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// Speech is how the people of a plan's plant read measures; the rack types that the
// plan designed keep their names.
func Speech(facts *plant.Plant, p *Plan) units.Speech {
	s := p.Settings.Plant
	return units.NewSpeech(s.LengthUnit, s.MassUnit, func(yield func(string) bool) {
		for name := range facts.Names() {
			if !yield(name) {
				return
			}
		}
		for _, r := range p.Racks {
			if !yield(string(r.Type.RackType)) {
				return
			}
		}
	})
}
