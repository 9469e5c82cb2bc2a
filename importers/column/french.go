package column

// french are the headings of French sheets; see german.
var french = map[string][]string{
	"/Plant": {"Usine", "Données de l'usine", "Réglages"}, "/Shifts": {"Équipes", "Postes horaires"}, "/Products": {"Produits", "Plan de production"}, "/Usage": {"Consommation", "Consommations", "Nomenclature", "Utilisation"},
	"/History": {"Historique"}, "/Parts": {"Pièces", "Liste des pièces", "Articles", "Références"}, "/Containers": {"Conteneurs", "Bacs", "Emballages", "Contenants"},
	"/Cells": {"Cellules", "Îlots", "Lignes"}, "/Stations": {"Postes", "Postes de travail"}, "/Rack types": {"Types de rayonnage", "Types de rack"}, "/Levels": {"Niveaux"}, "/Racks": {"Rayonnages"},
	"/Aisle points": {"Points d'allée"}, "/Aisles": {"Allées"}, "/Vehicles": {"Véhicules", "Chariots"}, "/Current layout": {"Implantation actuelle"}, "/Pins": {"Places fixes"},

	"/Stock on hand": {"Stock disponible", "Barres en stock", "Chutes"}, "Stock on hand/Part": {"Profilé", "Tube", "Section", "Pièce", "Référence"},
	"Stock on hand/Length": {"Longueur", "Longueur de barre"}, "Stock on hand/Count": {"Nombre", "Quantité"}, "Place": {"Emplacement", "Lieu"},

	"Part":      {"Pièce", "Numéro de pièce", "N° de pièce", "N° pièce", "Référence", "Réf", "Référence pièce", "Code article", "Article", "N° article", "Composant", "Code pièce"},
	"Container": {"Conteneur", "Contenant", "Bac", "Type de bac", "Type de conteneur", "Code bac", "Emballage", "Caisse"},
	"Cell":      {"Cellule", "Îlot", "Ligne", "Ligne de montage", "Cellule de montage"}, "Station": {"Poste", "Poste de travail", "Point d'utilisation", "Point de consommation"},
	"Product": {"Produit", "Modèle", "Produit fini"}, "Rack type": {"Type de rayonnage", "Type de rack"}, "Rack": {"Rayonnage"}, "Level": {"Niveau", "Étage"}, "Lane": {"Couloir", "Canal", "Piste"},
	"Description": {"Désignation", "Libellé", "Description pièce"}, "Length": {"Longueur", "Longueur bac", "Longueur extérieure"}, "Width": {"Largeur", "Largeur bac", "Largeur extérieure"},
	"Height": {"Hauteur", "Hauteur bac", "Hauteur extérieure"}, "Mass limit": {"Charge maximale", "Charge max"}, "Variation": {"Coefficient de variation"},
	"Quantity per unit": {"Quantité par unité", "Quantité par produit", "Pièces par produit"},
	"Pieces per hour":   {"Pièces par heure", "Pièces/heure", "Pièces/h", "Consommation par heure", "Consommation horaire", "Besoin par heure", "Conso/h"},
	"Pieces per day":    {"Pièces par jour", "Pièces/jour", "Consommation par jour", "Consommation journalière", "Besoin journalier", "Besoin par jour"},
	"Scrap":             {"Rebut", "Taux de rebut"}, "Refill interval": {"Intervalle de réapprovisionnement", "Intervalle", "Fréquence de tournée"}, "Response time": {"Temps de réponse", "Délai de réponse"},
	"Service level": {"Taux de service", "Niveau de service"}, "Safety": {"Sécurité", "Coefficient de sécurité"}, "Demand model": {"Modèle de demande"}, "Containers": {"Nombre de bacs", "Nombre de conteneurs", "Bacs en boucle"},
	"Piece mass":     {"Poids", "Poids unitaire", "Poids pièce", "Poids par pièce", "Masse unitaire"},
	"Standard pack":  {"Pièces par bac", "Pièces/bac", "Quantité par bac", "Qté par bac", "Qté/bac", "Pièces par conteneur", "Quantité par conteneur", "Contenance", "Conditionnement", "Quantité standard"},
	"Market address": {"Emplacement", "Adresse supermarché", "Adresse magasin"}, "Unit cost": {"Coût unitaire", "Prix", "Prix unitaire"}, "Pick hand": {"Main", "Mains"}, "Keep apart": {"Séparer", "Groupe de séparation"},
	"Look-alike of": {"Ressemble à"}, "Empty mass": {"Tare", "Poids à vide", "Poids du bac"}, "Gross mass limit": {"Poids brut maximal", "Poids brut max"}, "Returnable": {"Consigné", "Retournable", "Réutilisable"},
	"Flow side": {"Sens d'écoulement", "Côté d'écoulement"}, "Handles": {"Poignées"}, "Nests": {"Emboîtable"}, "Shift": {"Équipe"}, "Days": {"Jours", "Jours ouvrés"}, "Start": {"Début", "Heure de début"}, "End": {"Fin", "Heure de fin"},
	"Break start": {"Début de pause", "Pause"}, "Break minutes": {"Durée de pause", "Minutes de pause"}, "Units per day": {"Unités par jour", "Production journalière", "Unités/jour"}, "Date": {"Date", "Jour"}, "Units": {"Unités", "Quantité"},
	"Name": {"Nom"}, "Area": {"Zone", "Atelier", "Secteur"}, "Shifts": {"Équipes"}, "Frontage": {"Linéaire", "Longueur disponible"}, "Rack types allowed": {"Types de rayonnage autorisés"}, "Walk limit": {"Distance de marche max"},
	"Depth": {"Profondeur"}, "Own mass": {"Poids propre"}, "Cost": {"Coût", "Prix"}, "On casters": {"Sur roulettes", "Mobile"}, "Kind": {"Genre", "Nature"}, "Pick height": {"Hauteur de prise"}, "Drop": {"Dénivelé", "Chute"},
	"Lane length": {"Longueur de couloir", "Longueur utile"}, "Usable width": {"Largeur utile"}, "Clear height": {"Hauteur libre"}, "Stations": {"Postes"}, "Aisle point": {"Point d'allée", "Point d'arrêt"}, "Fixed lanes": {"Couloirs fixes"},
	"Point": {"Point"}, "From": {"De", "Départ"}, "To": {"À", "Arrivée"}, "Aisles/Length": {"Longueur", "Distance"}, "One way": {"Sens unique"}, "Speed limit": {"Vitesse maximale"}, "Vehicle type": {"Véhicule", "Type de véhicule"},
	"Count": {"Nombre"}, "Vehicles/Containers": {"Bacs", "Capacité", "Conteneurs"}, "Speed": {"Vitesse"}, "Stop time": {"Temps d'arrêt"}, "Load time": {"Temps de chargement"}, "Unload time": {"Temps de déchargement"},
	"Empty time": {"Temps des vides"}, "From market": {"Supermarché", "Magasin"}, "Reason": {"Motif", "Raison"}, "Setting": {"Réglage", "Paramètre"}, "Value": {"Valeur"}, "Plant name": {"Usine", "Nom de l'usine"},
	"Length unit": {"Unité de longueur"}, "Mass unit": {"Unité de masse", "Unité de poids"}, "Time zone": {"Fuseau horaire"},
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
