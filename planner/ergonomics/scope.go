package ergonomics

// LimitsOfUse says what the equation does not cover; it stands wherever its
// results are shown (Applications Manual, p. 6).
const LimitsOfUse = "The lifting equation is for smooth lifts with two hands of a load that keeps its shape, by people who stand on firm ground with room to move. " +
	"It does not cover lifts with one hand, for more than 8 hours, while sitting or kneeling, in tight space, of unstable loads, fast ones (about 750 mm a second and more) or with barrows and shovels, " +
	"nor carrying, pushing and pulling beyond a step or two, slippery floors, or work outside 19 to 26 °C or 35 to 50 % of relative humidity."

// caution stands in the detail of every finding of this stage.
const caution = " The equation does not cover one-handed lifts, lifts over 8 h, sitting or kneeling, tight space, unstable loads, carrying, pushing, or heat and cold. This is a screening only: a qualified person decides, and local rules come first."
