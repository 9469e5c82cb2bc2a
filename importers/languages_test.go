package importers

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/planner/plant"
)

// withRounds adds a kit, turns, today's routes and rules for routes.
func (w workbook) withRounds() workbook {
	w["Kits"] = [][]string{{"Kit", "Cut step (mm)", "Kerf (mm)", "Hole pitch (mm)"}, {"tube28", "1", "3", "25"}}
	w["Kit parts"] = [][]string{
		{"Kit", "Part", "Kind", "Uses", "Width (mm)", "Height (mm)", "Wall (mm)", "Stock lengths (mm)", "Mass per metre (kg)", "Yield stress (MPa)", "Pitch (mm)"},
		{"tube28", "t30", "tube", "rail", "30", "30", "2", "6000, 3000", "1.5", "235", ""},
		{"tube28", "r33", "roller track", "", "30", "20", "", "3000", "", "", "33"},
	}
	w["Turns"] = [][]string{{"From point", "At point", "To point", "Allowed"}, {"M", "P1", "X1", "no"}}
	w["Current routes"] = [][]string{{"Route", "Order", "Rack", "Vehicle type", "Interval (min)"}, {"blue", "1", "R1", "CART", "20"}, {"blue", "2", "R2", "", ""}}
	w["Route rules"] = [][]string{{"Rule", "Rack", "Other rack", "Route", "Reason"}, {"pin", "R1", "", "blue", "crane"}, {"apart", "R1", "R2", "", ""}}
	return w
}

// TestNewSheetsInFourLanguages: the sheets of kits and routes are read by the
// names that plants give them, into the same plant.
func TestNewSheetsInFourLanguages(t *testing.T) {
	t.Parallel()
	w := loadWorkbook(t, "lantern").withRounds()
	w["Vehicles"][1][0] = "CART"
	want := w.readZip(t)
	require.False(t, want.Findings.HasErrors(), "%v", want.Findings)
	require.Len(t, want.Plant.RouteRules, 2)
	require.Len(t, want.Plant.CurrentRoutes, 2)
	require.Len(t, want.Plant.Turns, 1)
	for language, names := range map[string]map[string]string{
		"German": {
			"Kits": "Bausätze|Bausatz;Schnittraster (mm);Sägeschnitt (mm);Lochabstand (mm)", "Kit parts": "Bausatzteile|Bausatz;Teil;Art;Verwendung;Breite (mm);Höhe (mm);Wandstärke (mm);Handelslängen (mm);Metergewicht (kg);Streckgrenze (MPa);Rollenteilung (mm)",
			"Turns": "Abbiegeregeln|Von Punkt;An Punkt;Nach Punkt;Erlaubt", "Current routes": "Heutige Routen|Route;Reihenfolge;Regal;Fahrzeug;Intervall (min)", "Route rules": "Routenregeln|Regel;Regal;Anderes Regal;Tour;Grund",
		},
		"Spanish": {
			"Kits": "Kits de piezas|Kit de piezas;Paso de corte (mm);Ancho de corte (mm);Paso de agujeros (mm)", "Kit parts": "Piezas de kit|Kit;Pieza;Tipo;Usos;Ancho (mm);Alto (mm);Espesor (mm);Largos de barra (mm);Peso por metro (kg);Límite elástico (MPa);Paso de rodillos (mm)",
			"Turns": "Giros|Desde punto;En punto;Hasta punto;Permitido", "Current routes": "Rutas actuales|Ruta;Orden;Estantería;Vehículo;Intervalo (min)", "Route rules": "Reglas de rutas|Regla;Estantería;Otra estantería;Ruta;Motivo",
		},
		"French": {
			"Kits": "Kits de pièces|Kit;Pas de coupe (mm);Trait de scie (mm);Pas des trous (mm)", "Kit parts": "Pièces de kit|Kit;Pièce;Nature;Emploi;Largeur (mm);Hauteur (mm);Épaisseur (mm);Longueurs de barre (mm);Poids par mètre (kg);Limite d'élasticité (MPa);Pas des rouleaux (mm)",
			"Turns": "Virages|Point de départ;Au point;Vers le point;Autorisé", "Current routes": "Tournées actuelles|Tournée;Ordre;Rayonnage;Véhicule;Intervalle (min)", "Route rules": "Règles de tournées|Règle;Rayonnage;Autre rayonnage;Tournée;Motif",
		},
	} {
		t.Run(language, func(t *testing.T) {
			t.Parallel()
			w := loadWorkbook(t, "lantern").withRounds()
			w["Vehicles"][1][0] = "CART"
			for sheet, text := range names {
				name, headings, _ := strings.Cut(text, "|")
				rows := w[sheet]
				rows[0] = strings.Split(headings, ";")
				w[name] = rows
				delete(w, sheet)
			}
			got := w.readZip(t)
			require.False(t, got.Findings.HasErrors(), "%v", got.Findings)
			assert.Equal(t, plant.Revision(&want.Plant), plant.Revision(&got.Plant))
		})
	}
}
