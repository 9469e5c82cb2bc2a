package column

// french are the headings of French sheets; see german.
var french = map[string][]string{
	"/Plant": {"Usine", "Données de l'usine", "Réglages"}, "/Shifts": {"Équipes", "Postes horaires"}, "/Products": {"Produits", "Plan de production"}, "/Usage": {"Consommation", "Consommations", "Nomenclature", "Utilisation"},
	"/History": {"Historique"}, "/Parts": {"Pièces", "Liste des pièces", "Articles", "Références"}, "/Containers": {"Conteneurs", "Bacs", "Emballages", "Contenants"},
	"/Cells": {"Cellules", "Îlots", "Lignes"}, "/Stations": {"Postes", "Postes de travail"}, "/Rack types": {"Types de rayonnage", "Types de rack"}, "/Levels": {"Niveaux"}, "/Racks": {"Rayonnages"},
	"/Aisle points": {"Points d'allée"}, "/Aisles": {"Allées"}, "/Vehicles": {"Véhicules", "Chariots"}, "/Current layout": {"Implantation actuelle"}, "/Pins": {"Places fixes"},

	"/Stock on hand": {"Stock disponible", "Barres en stock", "Chutes"}, "Stock on hand/Part": {"Profilé", "Tube", "Section", "Pièce", "Référence"},
	"Stock on hand/Length": {"Longueur", "Longueur de barre"}, "Stock on hand/Count": {"Nombre", "Quantité"}, "Place": {"Emplacement", "Lieu"},

	Measures:    {"Longueur x Largeur x Hauteur", "Dimensions L x l x H", "Longueur/Largeur/Hauteur"},
	"Part":      {"Pièce", "Numéro de pièce", "N° de pièce", "N° pièce", "Référence", "Réf", "Référence pièce", "Code article", "Article", "N° article", "Composant", "Code pièce"},
	"Container": {"Conteneur", "Contenant", "Bac", "Type de bac", "Type de conteneur", "Code bac", "Emballage", "Caisse"},
	"Cell":      {"Cellule", "Îlot", "Ligne", "Ligne de montage", "Cellule de montage"}, "Station": {"Poste", "Poste de travail", "Point d'utilisation", "Point de consommation"},
	"Product": {"Produit", "Modèle", "Produit fini"}, "Rack type": {"Type de rayonnage", "Type de rack"}, "Rack": {"Rayonnage"}, "Level": {"Niveau", "Étage"}, "Lane": {"Couloir", "Canal", "Piste"},
	"Description": {"Désignation", "Libellé", "Description pièce"}, "Length": {"Longueur", "Longueur bac", "Longueur extérieure"}, "Width": {"Largeur", "Largeur bac", "Largeur extérieure"},
	"Height": {"Hauteur", "Hauteur bac", "Hauteur extérieure"}, "Mass limit": {"Charge maximale", "Charge max"}, "Variation": {"Coefficient de variation"},
	"Quantity per unit": {"Quantité par unité", "Quantité par produit", "Pièces par produit"},
	"Pieces per hour":   {"Pièces par heure", "Pièces/heure", "Pièces/h", "Consommation par heure", "Consommation horaire", "Besoin par heure", "Conso/h", "Quantité par heure", "Qté/h"},
	"Pieces per day":    {"Pièces par jour", "Pièces/jour", "Consommation par jour", "Consommation journalière", "Besoin journalier", "Besoin par jour"},
	"Scrap":             {"Rebut", "Taux de rebut"}, "Refill interval": {"Intervalle de réapprovisionnement", "Intervalle", "Fréquence de tournée"}, "Response time": {"Temps de réponse", "Délai de réponse"},
	"Service level": {"Taux de service", "Niveau de service"}, "Safety": {"Sécurité", "Coefficient de sécurité"}, "Demand model": {"Modèle de demande"}, "Containers": {"Nombre de bacs", "Nombre de conteneurs", "Bacs en boucle"},
	"Piece mass":     {"Poids", "Poids unitaire", "Poids pièce", "Poids par pièce", "Masse unitaire"},
	"Standard pack":  {"Pièces par bac", "Pièces/bac", "Quantité par bac", "Qté par bac", "Qté/bac", "Pièces par conteneur", "Quantité par conteneur", "Contenance", "Conditionnement", "Quantité standard"},
	"Market address": {"Emplacement", "Adresse supermarché", "Adresse magasin"}, "Unit cost": {"Coût unitaire", "Prix", "Prix unitaire"}, "Pick hand": {"Main", "Mains"}, "Keep apart": {"Séparer", "Groupe de séparation"},
	"Look-alike of": {"Ressemble à"}, "Empty mass": {"Tare", "Poids à vide", "Poids du bac"}, "Gross mass limit": {"Poids brut maximal", "Poids brut max"}, "Returnable": {"Consigné", "Consignée", "Emballage consigné", "Retournable", "Réutilisable"},
	"Flow side": {"Sens d'écoulement", "Côté d'écoulement"}, "Handles": {"Poignées"}, "Nests": {"Emboîtable"}, "Shift": {"Équipe"}, "Days": {"Jours", "Jours ouvrés"}, "Start": {"Début", "Heure de début"}, "End": {"Fin", "Heure de fin"},
	"Break start": {"Début de pause", "Pause"}, "Break minutes": {"Durée de pause", "Minutes de pause"}, "Units per day": {"Unités par jour", "Production journalière", "Unités/jour"}, "Date": {"Date", "Jour"}, "Units": {"Unités", "Quantité"},
	"Name": {"Nom"}, "Area": {"Zone", "Atelier", "Secteur"}, "Shifts": {"Équipes"}, "Frontage": {"Linéaire", "Longueur disponible"}, "Rack types allowed": {"Types de rayonnage autorisés"}, "Walk limit": {"Distance de marche max"},
	"Depth": {"Profondeur"}, "Own mass": {"Poids propre"}, "Cost": {"Coût", "Prix"}, "On casters": {"Sur roulettes", "Mobile"}, "Kind": {"Genre", "Nature"}, "Pick height": {"Hauteur de prise"}, "Drop": {"Dénivelé", "Chute"},
	"Lane length": {"Longueur de couloir", "Longueur utile"}, "Usable width": {"Largeur utile"}, "Clear height": {"Hauteur libre"}, "Stations": {"Postes"}, "Aisle point": {"Point d'allée", "Point d'arrêt"}, "Fixed lanes": {"Couloirs fixes"},
	"Point": {"Point"}, "From": {"De", "Départ"}, "To": {"À", "Arrivée"}, "Aisles/Length": {"Longueur", "Distance"}, "One way": {"Sens unique"}, "Speed limit": {"Vitesse maximale"}, "Vehicle type": {"Véhicule", "Type de véhicule"},
	"Count": {"Nombre"}, "Vehicles/Containers": {"Bacs", "Capacité", "Conteneurs"}, "Speed": {"Vitesse"}, "Stop time": {"Temps d'arrêt"}, "Load time": {"Temps de chargement"}, "Unload time": {"Temps de déchargement"},
	"Empty time": {"Temps des vides"}, "From market": {"Supermarché", "Magasin"}, "Reason": {"Motif", "Raison"}, "Setting": {"Réglage", "Paramètre"}, "Value": {"Valeur"}, "Plant name": {"Usine", "Nom de l'usine"},
	"Length unit": {"Unité de longueur"}, "Mass unit": {"Unité de masse", "Unité de poids"}, "Time zone": {"Fuseau horaire"},

	// Parts kits, turns and today's routes; what a plant decides.
	"/Kits": {"Kits de pièces", "Jeux de pièces"}, "/Kit parts": {"Pièces de kit", "Pièces des kits", "Composants de kit"}, "/Turns": {"Virages", "Règles de virage", "Virages interdits"},
	"/Current routes": {"Tournées actuelles", "Circuits actuels"}, "/Route rules": {"Règles de tournées", "Règles des tournées", "Restrictions de tournées"},
	"Kit": {"Kit de pièces", "Jeu de pièces"}, "Cut step": {"Pas de coupe"}, "Kerf": {"Trait de scie", "Largeur de coupe"}, "Hole pitch": {"Pas des trous", "Entraxe des trous"},
	"First hole": {"Premier trou"}, "Hole diameter": {"Diamètre des trous", "Diamètre de trou"}, "Hole walls": {"Parois percées"}, "Rollers under": {"Rouleaux sous bac", "Rouleaux par bac"},
	"Side clearance": {"Jeu latéral"}, "Return slope": {"Pente de retour"}, "Centre support": {"Appui central", "Appui central à partir de"}, "Uses": {"Usages", "Emploi"},
	"Shape": {"Forme", "Section"}, "Wall": {"Paroi", "Épaisseur", "Épaisseur de paroi"}, "Corner radius": {"Rayon d'angle"}, "Stock lengths": {"Longueurs de barre", "Longueurs de stock"},
	"Pitch": {"Pas", "Pas des rouleaux"}, "Mass": {"Masse", "Poids", "Poids pièce"}, "Mass per metre": {"Masse par mètre", "Poids par mètre"},
	"Mass per foot": {"Masse par pied", "Poids par pied"}, "Price": {"Prix", "Prix pièce"}, "Price per metre": {"Prix par mètre", "Prix au mètre"},
	"Price per foot": {"Prix par pied", "Prix au pied"}, "Material": {"Matériau", "Matière"}, "Yield stress": {"Limite d'élasticité"}, "Elastic modulus": {"Module d'élasticité"},
	"Per joint":  {"Par jonction", "Nombre par jonction"},
	"From point": {"Point de départ", "Du point", "De"}, "At point": {"Au point", "Point de virage"}, "To point": {"Point d'arrivée", "Vers le point", "Vers"},
	"Allowed": {"Autorisé", "Permis"}, "Route": {"Tournée", "Circuit"}, "Order": {"Ordre", "Séquence", "N° d'arrêt"}, "Interval": {"Intervalle", "Toutes les"},
	"Rule": {"Règle", "Restriction"}, "Other rack": {"Autre rayonnage", "Second rayonnage"},
	"X": {"Coordonnée X", "Position X"}, "Y": {"Coordonnée Y", "Position Y"}, "New rack X": {"Nouveau rayonnage X"}, "New rack Y": {"Nouveau rayonnage Y"},
	"New rack aisle point": {"Nouveau rayonnage point d'allée", "Point d'allée des nouveaux rayonnages"}, "Places": {"Places de chargement", "Quais"}, "Traffic": {"Circulation", "Ouvert à"},
	"Single file": {"Voie unique", "Étroit"}, "Turn round": {"Demi-tour"}, "On foot": {"À pied"}, "Parking": {"Stationnement", "Parc"},
	"Service measure": {"Mesure de service"}, "Shortages per year": {"Ruptures par an", "Manques par an"}, "History decides": {"L'historique décide", "Emploi de l'historique"},
	"Interval choices": {"Intervalles possibles"}, "Lane side clearance": {"Jeu latéral du couloir"}, "Guide width": {"Largeur du guide"},
	"Hand clearance": {"Espace pour la main", "Passage de main"}, "Roller pitch": {"Pas des rouleaux"}, "Fill limit of levels": {"Limite de remplissage des niveaux", "Limite de remplissage"},
	"Load limit of a round": {"Limite de charge d'une tournée"}, "Busy limit of a handler": {"Limite d'occupation"}, "Weeks per year": {"Semaines par an", "Semaines travaillées par an"},
	"Handler cost per hour": {"Coût horaire d'un opérateur", "Coût de main-d'œuvre par heure"}, "Vehicle cost per year": {"Coût d'un véhicule par an"},
	"Rack life": {"Durée de vie des rayonnages"}, "Floor cost per m2 and year": {"Coût de surface par m2 et an"}, "Stock interest": {"Intérêt du stock", "Taux sur stock"},
	"Random seed":      {"Graine", "Graine aléatoire"},
	"Kit parts/Height": {"Hauteur", "Diamètre"},
}

// translations are the names of a column in three more languages: those of
// its sheet where it has its own, else those of the field; without a sheet
// those of the sheet called field.
func translations(sheet, field string) []string {
	var names []string
	for _, language := range []map[string][]string{german, spanish, french} {
		own, ok := language[sheet+"/"+field]
		if !ok && sheet != "" {
			own = language[field]
		}
		names = append(names, own...)
	}
	return names
}
