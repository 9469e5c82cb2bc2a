package wire

import "lanewright/planner/structure"

// Screening is what was computed about a rack at full load.
type Screening struct {
	OwnMassKG   float64     `json:"own_mass_kg"`
	LoadKG      float64     `json:"load_kg" doc:"full lanes"`
	Slenderness float64     `json:"slenderness" doc:"height over the least width of the base"`
	Uses        []MemberUse `json:"uses" doc:"members by how far they are used, the governing one first"`
	Tips        []Tip       `json:"tips" doc:"the rack's edges, the least firm first"`
}

// MemberUse is how far a member is used.
type MemberUse struct {
	Mark   string   `json:"mark"`
	Role   string   `json:"role"`
	Level  int      `json:"level"`
	By     string   `json:"by"`
	LoadKG float64  `json:"load_kg"`
	Value  *float64 `json:"value"`
	Limit  *float64 `json:"limit"`
	Share  *float64 `json:"share" doc:"value over limit"`
	Unit   string   `json:"unit"`
}

// Tip is how firm a rack stands over one edge.
type Tip struct {
	Edge  string   `json:"edge"`
	Angle *float64 `json:"angle_deg" doc:"by which it must lean before it falls"`
	Push  *float64 `json:"push" doc:"what holds it down over what a push lifts"`
}

func newScreening(s structure.Screening) *Screening {
	return &Screening{
		OwnMassKG: s.OwnMass, LoadKG: s.Load, Slenderness: s.Slenderness,
		Uses: convert(s.Uses, func(u structure.Use) MemberUse {
			return MemberUse{u.Mark, string(u.Role), u.Level, string(u.By), u.Load, finite(u.Value), finite(u.Limit), finite(u.Share), u.Unit}
		}),
		Tips: convert(s.Tips, func(t structure.Tip) Tip { return Tip{string(t.Edge), finite(t.Angle), finite(t.Push)} }),
	}
}
