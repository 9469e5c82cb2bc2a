package column

import (
	"strings"
	"unicode"
)

// Heading is one heading taken apart. It is made once and looked up in many
// lexicons.
type Heading struct {
	// Text is the heading as the sheet has it, Name the same without Unit.
	Text, Name, Unit string

	whole, name string // folded
	words       string // the name word by word, see wordsOf
}

// NewHeading takes a heading apart; split finds its unit.
func NewHeading(text string, split func(string) (name, unit string)) Heading {
	h := Heading{Text: text, whole: Fold(text)}
	if h.whole == "" {
		return h
	}
	h.Name, h.Unit = split(text)
	h.name, h.words = Fold(h.Name), wordsOf(h.Name)
	return h
}

// IsBlank reports whether the heading says nothing.
func (h Heading) IsBlank() bool { return h.whole == "" }

// wordsOf reduces a name to its words: small words left out, abbreviations
// and words of four languages written as one: "Stk. je KLT", "pcs/container"
// and "Pièces par bac" are all "pieces per container".
func wordsOf(name string) string {
	var out []string
	for _, w := range splitWords(name) {
		w = Fold(w)
		if same, ok := sameWord[w]; ok {
			w = same
		}
		if w != "" {
			out = append(out, w)
		}
	}
	return strings.Join(out, " ")
}

// IsPer reports whether a word of a heading means "per" in one of the languages.
func IsPer(word string) bool { return wordsOf(word) == "per" }

// splitWords parts a name at everything that is no letter or digit, before a
// capital behind a small letter, and writes a slash or its kind as "per".
func splitWords(name string) []string {
	var b strings.Builder
	before := ' '
	for _, r := range name {
		switch {
		case r == '/':
			b.WriteString(" per ")
		case r == '#' || r == '№':
			b.WriteString(" number ")
		case !unicode.IsLetter(r) && !unicode.IsDigit(r) && !unicode.IsMark(r):
			b.WriteByte(' ')
		default:
			if unicode.IsUpper(r) && unicode.IsLower(before) {
				b.WriteByte(' ')
			}
			b.WriteRune(r)
		}
		before = r
	}
	return strings.Fields(b.String())
}

// sameWord gives one spelling to folded abbreviations and words of the four
// languages that mean one thing whatever stands beside them; small words have
// none.
var sameWord = wordTable(map[string]string{
	"":            "of the for de del della la las le les du des d der die das den und y et and el los",
	"per":         "pro je por par a",
	"number":      "no nr num nbr nro numero nummer nb",
	"quantity":    "qty qnty qte quantite cantidad cant ctd menge mge",
	"pieces":      "pc pcs piece stk stck stueck piezas pieza pza pzas pz pce pces",
	"hour":        "h hr hrs hours std stunde hora horas heure heures",
	"day":         "d days tag dia dias jour jours",
	"minutes":     "min mins minute minuten minutos",
	"part":        "teil prt",
	"container":   "cont ctnr behaelter klt bac contenedor conteneur ladungstraeger",
	"box":         "kiste caja caisse",
	"length":      "l len lgth laenge largo longueur longitud",
	"width":       "wid wdth breite ancho largeur",
	"height":      "hgt hght hoehe alto altura hauteur",
	"weight":      "wt wgt gewicht peso poids",
	"mass":        "masse masa",
	"description": "descr desc bezeichnung descripcion designation",
	"cell":        "zelle celda cellule",
	"station":     "stn estacion poste",
	"rack":        "regal estanteria rayonnage",
	"pack":        "pk pkg packung",
	"unit":        "einheit unidad unite",
	"maximum":     "max maximal maximo maximale",
	"standard":    "estandar",
	"usage":       "verbrauch consumo consommation",
	"demand":      "bedarf demanda besoin",
	"assembly":    "assy asm",
	"product":     "produkt producto produit prod",
	"interval":    "intervall intervalo intervalle",
	"coordinate":  "coord koordinate coordenada coordonnee",
})

// wordTable turns "no nr num" into one entry each.
func wordTable(lists map[string]string) map[string]string {
	t := map[string]string{}
	for word, list := range lists {
		for w := range strings.FieldsSeq(list) {
			t[w] = word
		}
	}
	return t
}
