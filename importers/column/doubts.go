package column

// doubt is a word that plants use for several columns: what it means is asked.
type doubt struct {
	names  []string
	fields []string
}

// doubts of the sheets, by sheet name.
var doubts = map[string][]doubt{
	Flat: {
		{[]string{"Menge", "Cantidad", "Quantité", "Anzahl", "Number", "Amount", "Stück", "Pieces", "Piezas", "Pièces"},
			[]string{"Standard pack", "Pieces per day", "Pieces per hour", "Quantity per unit"}},
		{[]string{"Verbrauch", "Bedarf", "Demand", "Usage", "Consumption", "Need", "Consumo", "Demanda", "Consommation", "Besoin", "Rate"},
			[]string{"Pieces per day", "Pieces per hour", "Quantity per unit"}},
		{[]string{"Size", "Größe", "Tamaño", "Taille"}, []string{"Container", Measures}},
		{sizes, []string{Measures}},
		{[]string{"Takt", "Arbeitsfolge", "AFO", "Platz", "Position", "Posición"}, []string{"Station"}},
		{[]string{"Code", "Código", "Codigo", "Nummer", "Nr"}, []string{"Part"}},
	},
	Usage: {
		{[]string{"Menge", "Cantidad", "Quantité", "Anzahl", "Verbrauch", "Bedarf", "Demand", "Consumption", "Consumo", "Demanda", "Consommation", "Besoin", "Pieces", "Stück"},
			[]string{"Quantity per unit", "Pieces per hour", "Pieces per day"}},
	},
	Parts: {
		{[]string{"Menge", "Quantity", "Qty", "Cantidad", "Quantité", "Anzahl", "Pieces", "Stück"}, []string{"Standard pack"}},
	},
}

// doubtsOf gives the columns that a folded doubtful word may mean.
func doubtsOf(s Sheet) map[string][]string {
	table := map[string][]string{}
	for _, d := range doubts[s.Name] {
		for _, n := range d.names {
			table[Fold(n)] = d.fields
		}
	}
	return table
}
