package column

// Measures is the column of a flat table that holds length, width and height of a
// container in one cell, in this order.
const Measures = "Length x width x height"

// measures are names that say the order. Names that do not, such as "Dimensions",
// are doubts: they are asked about.
var measures = optional(Measures, "L x W x H", "LWH", "L/W/H", "Container L x W x H", "Bin L x W x H", "Box L x W x H", "Size L x W x H", "Dimensions L x W x H", "Outside L x W x H", "Length/Width/Height", "Bin size L x W x H", "Box size L x W x H")

// sizes are names of measures in one cell that do not say their order.
var sizes = []string{"Dimensions", "Dims", "Dim", "Measures", "Container size", "Bin size", "Box size", "Tote size", "Container dimensions", "Bin dimensions", "Box dimensions", "Outside dimensions",
	"Maße", "Abmessungen", "Abmessung", "Außenmaße", "Behältermaße", "Behälterabmessungen", "Behältergröße", "KLT-Maße", "Medidas", "Dimensiones", "Medidas caja", "Tamaño caja", "Encombrement", "Dimensions bac", "Taille bac"}
