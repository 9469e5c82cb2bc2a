package structure

// Cautions stand on every page, drawing and report that shows a rack.
func Cautions() []string {
	return []string{CautionScreening, CautionAnchor, CautionTry, CautionUnder, CautionMoving, CautionParts}
}

// The cautions, one sentence or two each.
const (
	CautionScreening = "These figures screen a rack and do not prove it. Local code, the load tables of the parts' makers and a licensed engineer decide."
	CautionAnchor    = "Anchor the rack to the floor or brace it to its neighbour before it is loaded. On casters set every brake first and move it empty only."
	CautionTry       = "Before use, run a fully loaded container of every kind down every lane and stop it at the end, with nobody in front of it."
	CautionUnder     = "Nobody stands, sits or reaches under a loaded level. Nobody climbs on a rack."
	CautionMoving    = "Containers move by themselves. Guard the low end of each lane and keep hands out of the gap between two containers."
	CautionParts     = "Use a tube, joint or caster only as its maker allows. Replace what is bent, cracked or loose, and tighten joints again after the first week."
)
