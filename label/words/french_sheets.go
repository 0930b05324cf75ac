package words

func frenchSteps() Steps {
	const (
		board   = " Comparer le numéro à la planche."
		varnish = "Essayer d’abord le vernis sur une chute : le solvant attaque certaines encres et certains films. D’abord un voile, puis deux couches fines, satinées ou mates sur un code."
		mirror  = "Imprimer sur papier ordinaire, puis sur le film, en taille réelle. La feuille est déjà en miroir : ne pas l’inverser encore dans la fenêtre d’impression."
		close   = "Couper au ras du marquage, et sur la ligne au raccord."
	)
	return Steps{
		Test:   "D’abord mesurer en cuve et classer : corps étanche, lest intégré fixé, antenne ou un poids égal en place.",
		Rings:  "Si cette fiche indique des anneaux de fond, les pulvériser maintenant et les laisser sécher.",
		Pencil: "Tracer le bord inférieur au crayon : mesurer le long de l’axe depuis le pied. Tourner le flotteur dans un vé.",
		Retest: "Retester un flotteur de chaque grammage, puis les mettre sur carte. Film et vernis prennent environ 0,01 g de charge ; une peinture après la mesure en prend 0,05 g et plus.",
		Waterslide: []string{
			"Imprimer sur papier ordinaire, présenter sur un flotteur, puis imprimer en taille réelle sur la face brillante du film. Jet d’encre : couper la partie non imprimée de la feuille, laisser sécher 30 minutes ou plus, puis sceller de 2 à 3 couches légères de vernis clair, à 15 à 30 minutes d’intervalle. Laser : seulement du film prévu pour imprimantes laser. Une feuille entamée entre propre, bord droit en tête.",
			"Couper 0,5 à 1 mm hors du marquage sur les bords libres, et sur la ligne au raccord ; le film blanc sur la ligne tout autour.",
			"Tremper de 20 à 60 secondes, jusqu’à ce que le film bouge. Mouiller le corps, faire glisser le film en place, raccord à l’opposé du code, chasser l’eau depuis le milieu ; assouplissant pour film sur les courbes serrées." + board,
			"Laisser sécher une nuit. " + varnish,
		},
		Vinyl: []string{
			"Imprimer sur papier ordinaire, présenter sur un flotteur, puis imprimer en taille réelle sur les étiquettes et laisser sécher l’encre. Une feuille entamée entre avec un bord propre et droit en tête.",
			"Couper sur la ligne. Un tour partiel laisse un vide au raccord : un film épais posé sur lui-même se décolle, comme tout autocollant sur une tige fine.",
			"Essuyer le corps, décoller l’étiquette, poser le milieu sur le trait de crayon, le vide à l’opposé du code, et presser du milieu vers les bords." + board,
			varnish + " Le vernis doit couvrir les bords : il les scelle.",
		},
		Tissue: []string{
			"Coller le papier de soie par son bord d’entrée sur du papier ordinaire et imprimer en taille réelle ; laisser sécher. Mouiller d’abord une chute de vernis : l’encre ne doit pas couler.",
			"Couper au ras du marquage ; un bord déchiré ou effrangé se voit le moins.",
			"Passer une couche fine de vernis sur le corps, y poser le papier, raccord à l’opposé du code, et l’appliquer au pinceau depuis le milieu jusqu’à ce qu’il soit transparent et plat." + board,
			"Laisser durcir. " + varnish,
		},
		RubOn: []string{
			mirror + " Laisser sécher l’encre, puis poser la colle comme le dit la fiche du film.",
			close,
			"Poser le film face imprimée sur le trait de crayon, raccord à l’opposé du code, et le frotter depuis le milieu avec un outil lisse et émoussé. Soulever lentement le support : là où l’encre le suit, le reposer et frotter encore." + board,
			"Frotter encore une fois à travers le papier de protection. " + varnish,
		},
		SkinTransfer: []string{
			mirror + " Laisser sécher l’encre, puis poser la feuille de colle sans bulles, comme le dit la fiche du film.",
			close,
			"Ôter la protection, poser le film face imprimée sur le trait de crayon, raccord à l’opposé du code, mouiller le dos à l’éponge jusqu’à ce que le papier glisse, environ une demi-minute, ôter le papier et presser le film." + board,
			"Laisser sécher une nuit. " + varnish,
		},
		ByHand: []string{
			"Imprimer les gabarits en taille réelle sur papier ordinaire, mesurer leurs lignes de contrôle et les découper.",
			"Enrouler le gabarit sur le corps, flèches vers le pied, coller le raccord et reporter anneaux et lettres au travers, au crayon tendre ou à la pointe d’une aiguille.",
			"Ôter le gabarit et écrire le texte que sa feuille donne pour ce flotteur." + board,
			"Laisser sécher l’écriture une nuit. " + varnish,
		},
	}
}

func frenchOrder() Order {
	return Order{
		Head: "COMMANDE À L’IMPRIMEUR", Ask: "Si quelque chose ne convient pas à vos machines : demandez avant de le changer.",
		QuantityDecals: "quantité, décalcomanies", QuantityCards: "quantité, cartes", StockDecals: "support, décalcomanies", StockCards: "support, cartes",
		DecalSheets: "Feuilles : %s, chacune une fois : chaque page diffère (decals-press.pdf ; decals-black.pdf est la même chose en noir seul)",
		CardSheets:  "Feuilles : %s, chacune une fois : chaque carte diffère (backers-press.pdf)",
		Grain:       "; sens des fibres le long du grand côté",
		Size:        "taille", Trim: "coupe", OtherForms: "autres formats", Machine: "machine de découpe", Bleed: "fond perdu", Black: "noir", Mirrored: "en miroir", White: "blanc",
		SizeWant:     "Imprimer à 100 %, sans ajuster ni réduire : une ligne sur chaque feuille doit mesurer ce qu’elle dit.",
		TrimWant:     "Les pièces se coupent le long du ton direct %q, qui ne s’imprime pas. C’est un tracé à part sur le calque cut.",
		FormsWant:    "decals-1.svg et suivants : chaque page en mm avec des calques nommés ; decals-1.png et suivants : de même en noir et blanc seuls, point pour point de la presse.",
		MachineWant:  "cut-1.svg et suivants ne portent que le tracé de coupe de chaque page, en mm, avec trois repères que la page porte aussi.",
		BleedWant:    "La couleur qui touche la coupe la dépasse de %s ; rien d’autre n’a de fond perdu.",
		BlackWant:    "Textes et codes sont en noir seul (K 100 %%), sans surimpression. Les codes sont faits de points entiers à %s points par pouce : ne pas les redimensionner, lisser ni retramer.",
		MirroredWant: "Les feuilles sont déjà en miroir : ne pas les inverser encore.",
		WhiteWant:    "Pas d’encre blanche : ce qui est blanc est le support.",
	}
}

func frenchTests() Tests {
	const (
		round  = "autour du milieu d’une balle de tennis de table de 40 mm, le bout sur la grosse ligne transversale"
		print  = "Imprimer en taille réelle (100 %) sur ce qui reçoit les codes, avec les mêmes réglages"
		smooth = ". Presser du milieu vers les bords et "
	)
	return Tests{
		AsMade: "%s sur %s, sans correction de l’imprimante", Corrected: "%s sur %s, avec la correction du profil %s de %s",
		StoreNamed: "L’enregistrer ; %s est le nom que vous donnez à cette imprimante :", StoreIt: "L’enregistrer :", Dots: Counted{"point", "points", "points"},

		Ruler:      "Règle",
		RulerPrint: "Imprimer en taille réelle (100 %), sans ajuster à la page, avec le bac et les réglages des marquages.",
		RulerMeasure: "Mesurer au réglet d’acier au quart de millimètre, toujours du milieu d’une ligne au milieu de l’autre : " +
			"x le long du haut, y le long de la gauche, d1 du haut à gauche au bas à droite, d2 du bas à gauche au haut à droite.",
		RulerTrue:      "À l’échelle, x mesure %s, y %s, d1 et d2 %s.",
		RulerCorrected: "Il devrait en être ainsi maintenant, à %s près. Si oui, il n’y a rien à faire ; sinon :",
		RulerOff:       "Votre imprimante s’en écartera un peu. À 3 % ou plus, la page a été ajustée au papier : imprimez-la de nouveau.",
		RulerMargin:    "Marge (margin) : des lignes se trouvent de 1 à 10 mm de chaque bord de la feuille. Notez le plus petit nombre dont la ligne est entière aux quatre bords.",

		Gain: "Engraissement de l’encre sur %s", GainMadeUp: "Compensé pour l’encre selon le profil %s de %s, %s %s : ici, chaque fente devrait être ouverte.",
		GainPrint:  print + ", et laisser sécher.",
		GainLook:   "L’encre déborde de chaque bord et ferme les fentes claires. Celles du haut ont de 1 à 6 points de large. Regardez à la loupe : laquelle est la plus étroite qui soit ouverte d’un bout à l’autre ?",
		GainDiffer: "Si les fentes verticales et horizontales diffèrent, prenez le plus grand nombre. Si aucune n’est ouverte, prenez moins d’encre ou un autre papier et imprimez de nouveau.",
		GainThen:   "Les codes sont alors dessinés plus minces d’autant de points que l’encre en ajoute.",

		Codes: "Tailles de code sur %s", CodesCompare: "Pour comparer : les mêmes bandes telles que dessinées, sans rien ôter pour l’encre.",
		CodesPrint:  print + ".",
		CodesCut:    "Découper les bandes. Enrouler chacune sur un rond de bois, la queue d’un foret ou un flotteur du diamètre indiqué, les bouts derrière, et les tenir avec de l’adhésif.",
		CodesHold:   "Tenir le téléphone à 12 cm, droit devant le code, puis 2 cm plus haut, plus bas et de chaque côté, tourné vers lui. Il se lit si, chaque fois, le téléphone dit en deux secondes ce que dit la bande. Essayez tous les téléphones que vos clients peuvent avoir.",
		CodesNote:   "Pour chaque taille de carrés, notez le rond le plus mince que lit chaque téléphone ; none s’il n’y en a pas. Faites-le pour les bandes simples et, à part, pour celles qui disent front : leurs codes sont élargis pour paraître carrés de face.",
		CodesMadeUp: "Ces bandes sont compensées pour l’encre selon le profil %s de %s, %s %s de moins, comme les marquages. Celles à comparer ne devraient pas se lire mieux : sinon, relisez l’essai d’encre : %s",
		CodesClosed: "Si les plus grands carrés ne se lisent pas sur 12 mm et plus, l’encre les ferme. Trouvez de combien de points, puis imprimez de nouveau cette feuille : %s",
		CodesType:   "Tapez ce que vous avez trouvé ; les codes sont alors choisis d’après cela. %s=10 dit que les carrés simples de %s points se lisent jusqu’à 10 mm, %sf=8 que ceux qui disent front se lisent jusqu’à 8 mm :",
		StripPlain:  "simple", StripFront: "front", StripOn: "sur %s", StripOff: "%s ôté",

		Duplex: "Recto et verso", OfBack: "%s du verso",
		Top: "haut (top)", Bottom: "bas (bottom)", Up: "vers le haut (up)", Down: "vers le bas (down)", Left: "gauche (left)", Right: "droite (right)",
		DuplexPrint:   "Imprimer les deux pages en taille réelle (100 %) sur les deux faces d’une feuille, retournée sur le grand côté.",
		DuplexHold:    "Tenir la feuille contre une lampe ou une fenêtre, cette face vers vous et à l’endroit. Le carton ne laisse pas passer la lumière : percez-le d’une aiguille au milieu des deux croix du verso.",
		DuplexRead:    "Les deux croix du verso se voient sur les échelles d’ici, dont les traits sont distants de %s. De combien chaque milieu est-il décalé, au quart de millimètre, et dans quel sens ? Lisez-le tel que vous le voyez de cette face.",
		DuplexAgain:   "Si le verso est décalé de plus de 5 mm, la feuille n’a pas été retournée sur le grand côté ou une face a été ajustée : imprimez de nouveau.",
		DuplexExample: "ici, le haut est à %s à droite et %s vers le haut, le bas à %s à gauche et ni en haut ni en bas. Mettez vos valeurs.",

		Proof:      "Épreuve sur papier ordinaire",
		ProofPrint: "Imprimer ceci sur papier ordinaire en taille réelle (100 %), avec les réglages des marquages.",
		ProofMeasure: "Mesurer les lignes de contrôle au réglet d’acier : chacune doit avoir la longueur qu’elle dit, à %s près. " +
			"Les règles le long des bords mesurent toute longueur, dans les deux sens.",
		ProofLabels:   "La poser sur une feuille d’étiquettes et tenir les deux contre la lumière : chaque marquage doit tomber dans son étiquette.",
		ProofMirrored: "Découper un marquage et le tenir autour de son flotteur, face imprimée vers le flotteur comme le sera le film : ses bouts doivent se rejoindre comme prévu.",
		ProofCut:      "Découper un marquage et le tenir autour de son flotteur : ses bouts doivent se rejoindre comme prévu.",
		ProofThen:     "Puis imprimer les marquages mêmes : ils sont aux mêmes endroits. Si une ligne est trop longue ou trop courte, calibrer d’abord l’imprimante :",

		Stretch:         "Essai d’étirement : %s",
		StretchPrint:    "Imprimer en taille réelle (100 %) : les lignes de contrôle mesurent alors 100 mm.",
		StretchCut:      "Couper sur les lignes pointillées.",
		StretchLook:     "Regarder le long des deux bords : un pli, une fronce ou un bord soulevé est de trop.",
		StretchLimit:    "La plus haute bande qui reste plate sans pli est la limite de votre film. Si deux essais diffèrent, prendre la plus basse.",
		StretchStore:    "L’enregistrer. Si %s est la plus haute :",
		LayWaterslide:   "Tremper chaque bande, avec l’assouplissant que vous employez, et la poser " + round + smooth + "laisser sécher.",
		LayVinyl:        "Décoller chaque bande et la poser " + round + smooth + "laisser un jour.",
		LayTissue:       "Coller chaque bande avec votre vernis, " + round + smooth + "laisser sécher.",
		LayRubOn:        "Poser chaque bande, face imprimée vers la balle, " + round + ". Frotter du milieu vers les bords et ôter le support.",
		LaySkinTransfer: "Décoller chaque bande et la poser, face imprimée vers la balle, " + round + ". La mouiller par derrière, ôter le papier et laisser sécher.",
	}
}
