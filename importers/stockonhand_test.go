package importers

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// TestStockOnHand: bars and offcuts are read under headings of four languages, with
// the kit's own spelling of their part; a part that no kit has is said.
func TestStockOnHand(t *testing.T) {
	t.Parallel()
	for _, heads := range [][]string{
		{"Stock on hand", "Part", "Length (mm)", "Count", "Place"}, {"Offcuts", "Section", "Length (cm)", "Qty", "Where"},
		{"Reststücke", "Profil", "Stangenlänge (mm)", "Anzahl", "Fach"}, {"Retales", "Perfil", "Longitud (mm)", "Cantidad", "Lugar"},
		{"Chutes", "Profilé", "Longueur (mm)", "Nombre", "Emplacement"},
	} {
		long := map[bool]string{true: "185.05", false: "1850.5"}[heads[2] == "Length (cm)"]
		w := loadWorkbook(t, "lantern").withKit()
		w.add(heads[0], heads[1:]...).add(heads[0], "T30", long, "2", "shelf 7").add(heads[0], "t30", "240", "", "").add(heads[0], "t40", "900", "1", "")
		r := w.readZip(t)
		require.Len(t, r.Plant.StockOnHand, 3, "%s: %v", heads[0], r.Findings)
		first, second := r.Plant.StockOnHand[0], r.Plant.StockOnHand[1]
		assert.Equal(t, plant.StockBar{Part: "t30", Length: 1850*units.Millimetre + units.Millimetre/2, Count: 2, Place: "shelf 7", Origin: first.Origin}, first, heads[0])
		assert.Equal(t, 1, second.Count, "blank is one")
		found := ofCode(r.Findings, plant.CodeStockPart)
		require.Len(t, found, 1, heads[0])
		assert.Contains(t, found[0].Summary, "t40")
	}
}
