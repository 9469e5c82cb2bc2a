package importers

import (
	"cmp"
	"slices"

	"lanewright/importers/column"
	"lanewright/planner/plant"
)

// CodeKitPartKit says that a part belongs to a kit that is not there.
const CodeKitPartKit = "kit-parts.unknown-kit"

// joinKits enters the kits and their parts.
func (j *joiner) joinKits() {
	at := map[string]int{}
	for f := range j.rd.facts.kits.all() {
		k := f.v
		if code, ok := j.enter(j.kits, f.row, "Kit", "", string(k.Kit)); ok {
			k.Kit = plant.KitCode(code)
			at[code] = len(j.plant.Kits)
			j.plant.Kits = append(j.plant.Kits, k)
		}
	}
	parts := newCodebook(j.rd, "part of the kit", column.KitParts)
	for f := range j.rd.facts.kitParts.all() {
		if f.row.state == reported {
			continue
		}
		kit, ok := j.ref(j.kits, f.row, "Kit", "", string(f.v.kit), CodeKitPartKit)
		if !ok {
			continue
		}
		if code, ok := j.enter(parts, f.row, "Part", kit, string(f.v.part.Part)); ok {
			f.v.part.Part = plant.KitPartCode(code)
			j.plant.Kits[at[kit]].Parts = append(j.plant.Kits[at[kit]].Parts, f.v.part)
		}
	}
	for i := range j.plant.Kits {
		slices.SortFunc(j.plant.Kits[i].Parts, func(a, b plant.KitPart) int { return cmp.Compare(a.Part, b.Part) })
	}
}

// kitNamed returns the kit's own spelling where a rack type names one of the
// plant's; plant.Check says where there is no such kit.
func (j *joiner) kitNamed(raw plant.KitCode) plant.KitCode {
	if e := j.kits.entries[scoped{"", foldCode(string(raw))}]; e != nil && !e.out {
		return plant.KitCode(e.code)
	}
	return raw
}
