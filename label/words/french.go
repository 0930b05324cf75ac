package words

import "floatmark/loading/unit"

// french are the words for French-speaking anglers. "intégré" stands for the
// built-in lest (préplombé is in use, but a weight may be no lead), "ajout" for
// the plombée to be added. Unsure: "grammage" for the rating (portance is also
// in use), "pied" for the base end.
func french() Words {
	return Words{
		Language: "fr", Region: "FR", Colon: " : ", Number: unit.Style{Comma: true},
		BuiltIn: "intégré", Add: "ajout", About: "env.", NothingToAdd: "rien à ajouter", Fresh: "eau douce", Sea: "eau de mer",
		ToAddAsShot: "à ajouter, en plombs", EachInItsMetal: "chaque ligne dans son métal", ScanForRecord: "scannez : sa fabrication",
		Batch: "lot", Float: "flotteur", Long: "de long", Body: "de corps",
		BuiltInWeight: "lest intégré", NoLead: "sans plomb", ContainsLead: "contient du plomb", Nothing: "aucun", Waterline: "ligne d’eau",
		Rings: "anneaux", RingIs: "anneau épais %s, anneau fin %s",
		Loaded: "lesté", Unloaded: "non lesté", SelfCocking: "autoporteur", Exchangeable: "à pièces interchangeables", Setups: "montages", With: "avec",
		CodeOnCard: "code sur la carte", CodeOnFloat: "code sur le flotteur", CodeHeldSquare: "tenir droit", Regraded: "reclassé", MeasuredSum: "somme mesurée", Tip: "antenne", High: "trop haute", Low: "trop basse", ByRounding: "par arrondi",
		WeighBeforeUse: "non vérifié : pesez avant usage", NoShotPossible: "aucun plomb permis ici ne convient",
		Toy: "ceci n’est pas un jouet", SmallParts: "petites pièces, pointes", Children: "tenir hors de portée des enfants de moins de 3 ans",
		NeverBite: "ne jamais mordre les plombs", WashHands: "se laver les mains après usage",
		ActualSize: "imprimer en taille réelle (100 %), sans ajuster à la page", Sheet: "feuille", Of: "sur",
		LowerEdge: "bord inférieur", FromBase: "du pied", UpperEdge: "bord supérieur", FromTip: "de la pointe", ThisEdgeDown: "ce bord vers le bas",
		CheckLine: "cette ligne mesure 100 mm", ThisLineIs: "cette ligne mesure %s", Spare: "réserve", MarkReady: "marquage déjà prêt",
		Mirrored: "imprimé en miroir : il se lit à l’endroit une fois frotté",
		JobSheet: "fiche de travail", Number1: "n°", ID: "identifiant", Rating: "grammage", Printed: "imprimé", Where: "emplacement",
		Cut: "coupé", Applied: "posé", Varnished: "verni", Retested: "retesté", Cautions: "précautions",
		// Common practice, no single source; product data sheets win.
		DayCautions: []string{
			"Sprays et solvants : dehors ou avec aspiration, avec le masque que nomme la fiche du produit, sans flamme ni étincelle.",
			"Sprays à deux composants : seulement avec la protection et la pratique agréée que demande leur fiche.",
			"Époxy : gants et air frais ; il peut rendre la peau sensible à vie ; mélangez peu, il chauffe en gélifiant.",
			"Plomb : ni ponçage ni meulage à sec, gants, se laver les mains, tenir poussière et plombs hors de portée des enfants ; ne jamais mordre les plombs.",
			"Lames et fil coupé : coupez en vous éloignant du corps, couvrez les bouts qui sautent, portez des lunettes de protection.",
			"Les règles locales et les fiches des produits passent avant cette liste.",
		},
		LifeSize: "en grandeur réelle", LineAt: "fil", ScanForFigures: "scannez : ses valeurs",
		Date: "date", Maker: "fabricant", Pattern: "modèle", Code: "code", Note: "remarque", OrderOfDay: "ordre de la journée",
		CommonPractice: "usage courant ; les fiches des produits priment",
		// Common practice, no source; product data sheets win.
		DaySteps: []string{
			"D’abord mesurer en cuve et classer : corps étanche, lest intégré fixé, antenne ou un poids égal en place.",
			"Imprimer sur papier ordinaire, présenter sur un flotteur, puis imprimer sur film. Jet d’encre : laisser sécher, puis sceller de fines couches de vernis clair. Laser : film prévu pour imprimantes laser.",
			"Là où le corps est foncé, pulvériser un anneau de fond pâle entre deux adhésifs ; ôter l’adhésif avant que la peinture ne soit dure.",
			"Tracer le bord inférieur au crayon : mesurer le long de l’axe depuis le pied. Tourner le flotteur dans un vé.",
			"Couper 0,5 à 1 mm hors du marquage sur les bords libres, et sur la ligne au raccord.",
			"Tremper jusqu’à ce que le film bouge, le faire glisser en place, raccord à l’opposé du code, et chasser l’eau depuis le milieu. Comparer le numéro à la planche.",
			"Laisser sécher une nuit. Essayer le vernis sur une chute ; d’abord un voile, puis deux couches fines, satinées ou mates sur un code.",
			"Retester un flotteur de chaque grammage, puis les mettre sur carte. Film et vernis prennent environ 0,01 g de charge ; une peinture après la mesure en prend 0,05 g et plus.",
		},
		Ground: GroundRings{
			Head: "anneaux de fond à peindre avant la pose",
			How: "Anneau pâle sous le marquage : masquer les deux bords, 1 à 2 couches fines sur la couleur sèche, ôter l’adhésif avant que la peinture ne soit dure, " +
				"laisser sécher comme le dit sa fiche, et égaliser légèrement à l’abrasif fin mouillé pour qu’aucune marche ne se voie à travers le film.",
			Colour: "couleur", MaskAt: "masquer à", Between: "%s et %s %s", Why: "raison",
			Proposed: "proposé : le noir ne se voit pas sur %s", UnderWhatShows: "sous ce qui se voit à travers",
		},
		Jig: Jig{
			HowTo:  "Découper, enrouler sur le corps, flèches vers le pied, coller le raccord et reporter au travers.",
			NoCode: "Le code est omis : il va sur la carte.", GoesOn: "texte de chaque flotteur", Continued: "suite",
		},
		Spread: Spread{Title: "Sommes mesurées", Off: "écart au grammage", Shaded: "ombré : à %s près", Bar: "trait : incertitude, k = 2",
			Triangle: "triangle : moyenne, sur un écart type", NoneTested: "aucun mesuré", OneTested: "1 mesuré, %s",
			Tested: "%s mesurés, moyenne %s", Deviation: "écart type %s"},
		Files: Files{Decals: "décalcomanies", Proof: "épreuve sur papier ordinaire", Jigs: "gabarits en papier", Backers: "cartes", JobSheet: "fiche de travail",
			PressDecals: "décalcomanies pour l’imprimeur", BlackDecals: "décalcomanies en noir seul", PressBackers: "cartes pour l’imprimeur", OrderForShop: "commande à l’imprimeur"},
		Names: names(pageFrench(), [...]string{"film décalcomanie à l’eau blanc", "film décalcomanie à l’eau transparent", "papier de soie sous vernis", "film à frotter transparent", "film transfert pour la peau transparent",
			"vinyle adhésif blanc", "papier adhésif blanc", "carton blanc de 300 g/m²", "papier ordinaire de 80 g/m²"}),
		Steps: frenchSteps(), Order: frenchOrder(), Tests: frenchTests(),
	}
}
