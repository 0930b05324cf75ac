package words

import "floatmark/loading/unit"

// polish are the words for Polish-speaking anglers. "własne" stands for the
// built-in weight (dociążenie własne), "dodaj" for the obciążenie to be added.
// Unsure: "obciążony" for loaded, "próba" for the tank test.
func polish() Words {
	return Words{
		Language: "pl", Region: "PL", Colon: ": ", Number: unit.Style{Comma: true},
		BuiltIn: "własne", Add: "dodaj", About: "ok.", NothingToAdd: "nic nie dodawaj", Fresh: "woda słodka", Sea: "woda morska",
		ToAddAsShot: "dodać, w śrucinach", EachInItsMetal: "każdy wiersz w swoim metalu", ScanForRecord: "zeskanuj: jak powstał",
		Batch: "seria", Float: "spławik", Long: "długości", Body: "średnicy",
		BuiltInWeight: "wbudowany ciężarek", NoLead: "bez ołowiu", ContainsLead: "zawiera ołów", Nothing: "brak", Waterline: "linia wody",
		Rings: "pierścienie", RingIs: "gruby pierścień %s, cienki pierścień %s",
		Loaded: "dociążony", Unloaded: "niedociążony", SelfCocking: "samostojący", Exchangeable: "z częściami wymiennymi", Setups: "zestawienia", With: "z",
		CodeOnCard: "kod na karcie", CodeOnFloat: "kod na spławiku", CodeHeldSquare: "trzymać prosto", Regraded: "zmieniona klasa", MeasuredSum: "suma zmierzona", Tip: "antenka", High: "za wysoko", Low: "za nisko", ByRounding: "z zaokrąglenia",
		WeighBeforeUse: "niesprawdzone: zważ przed użyciem", NoShotPossible: "żadne dozwolone tu śruciny tego nie dają",
		Toy: "to nie zabawka", SmallParts: "małe części, ostre końce", Children: "chronić przed dziećmi do lat 3",
		NeverBite: "nigdy nie gryźć śrucin", WashHands: "po dotknięciu umyć ręce",
		ActualSize: "drukować w rozmiarze rzeczywistym (100 %), bez dopasowania do strony", Sheet: "arkusz", Of: "z",
		LowerEdge: "dolna krawędź", FromBase: "od dołu", UpperEdge: "górna krawędź", FromTip: "od czubka", ThisEdgeDown: "tą krawędzią w dół",
		CheckLine: "ta linia ma 100 mm", ThisLineIs: "ta linia ma %s", Spare: "zapas", MarkReady: "nadruk leży gotowy",
		Mirrored: "druk lustrzany: po przetarciu czyta się właściwie",
		JobSheet: "karta pracy", Number1: "nr", ID: "numer", Rating: "wyporność", Printed: "nadruk", Where: "położenie",
		Cut: "cięty", Applied: "klejony", Varnished: "lakier", Retested: "zbadany", Cautions: "ostrzeżenia",
		// Common practice, no single source; product data sheets win.
		DayCautions: []string{
			"Spreje i rozpuszczalniki: na dworze lub z wyciągiem, w masce, którą podaje karta wyrobu, bez płomienia i iskier.",
			"Spreje dwuskładnikowe: tylko z ochroną i z uprawnieniami, których wymaga ich karta.",
			"Epoksyd: rękawice i świeże powietrze; może uczulić skórę na całe życie; mieszaj mało, żelując się rozgrzewa.",
			"Ołów: nie szlifować na sucho, rękawice, myć ręce, pył i śruciny trzymać z dala od dzieci; nigdy nie gryźć śrucin.",
			"Ostrza i cięty drut: tnij od siebie, osłaniaj odskakujące końce, noś okulary ochronne.",
			"Miejscowe przepisy i karty wyrobów są ważniejsze niż ta lista.",
		},
		LifeSize: "w naturalnej wielkości", LineAt: "żyłka", ScanForFigures: "zeskanuj: jego wartości",
		Date: "data", Maker: "wytwórca", Pattern: "model", Code: "kod", Note: "uwagi", OrderOfDay: "kolejność prac",
		CommonPractice: "powszechna praktyka; karty wyrobów są ważniejsze",
		// Common practice, no source; product data sheets win.
		DaySteps: []string{
			"Najpierw próba w zbiorniku i klasyfikacja: korpus uszczelniony, ciężarek wklejony, antenka lub równy jej ciężar na miejscu.",
			"Wydrukuj na zwykłym papierze, przyłóż do spławika, potem drukuj na folii. Atrament: wysusz, potem zabezpiecz cienkimi warstwami lakieru bezbarwnego. Laser: folia do drukarek laserowych.",
			"Gdzie korpus jest ciemny, natryśnij jasny pierścień tła między dwiema taśmami; zdejmij taśmę, zanim farba stwardnieje.",
			"Zaznacz dolną krawędź ołówkiem: mierz wzdłuż osi od dolnego końca. Obracaj spławik w pryzmie.",
			"Tnij 0,5 do 1 mm poza nadrukiem na wolnych krawędziach, a na szwie po linii.",
			"Mocz, aż folia się ruszy, nasuń ją szwem naprzeciw kodu i wypchnij wodę od środka. Porównaj numer z deską.",
			"Susz przez noc. Wypróbuj lakier na ścinku; najpierw mgiełka, potem dwie cienkie warstwy, na kodzie satynowe lub matowe.",
			"Zbadaj ponownie jeden spławik każdej wyporności, potem daj je na karty. Folia i lakier zabierają około 0,01 g wyporności; malowanie po próbie zabiera 0,05 g i więcej.",
		},
		Ground: GroundRings{
			Head: "pierścienie tła do pomalowania przed naklejeniem",
			How: "Jasny pierścień pod nadrukiem: oklej obie krawędzie, 1 do 2 cienkich warstw na suchym kolorze, zdejmij taśmę, zanim farba stwardnieje, " +
				"susz, jak podaje jej karta, i lekko zeszlifuj drobnym papierem na mokro, aby przez folię nie było widać stopnia.",
			Colour: "kolor", MaskAt: "oklej na", Between: "%s i %s %s", Why: "po co",
			Proposed: "propozycja: czerni nie widać na %s", UnderWhatShows: "pod tym, przez co prześwituje",
		},
		Jig: Jig{
			HowTo:  "Wytnij, owiń wokół korpusu strzałkami w dół, sklej szew taśmą i odrysuj.",
			NoCode: "Kod pominięto: idzie na kartę.", GoesOn: "tekst każdego spławika", Continued: "ciąg dalszy",
		},
		Spread: Spread{Title: "Zmierzone sumy", Off: "odchyłka od wyporności", Shaded: "cień: do %s", Bar: "kreska: niepewność, k = 2",
			Triangle: "trójkąt: średnia, na odchyleniu standardowym", NoneTested: "nie zbadano żadnego", OneTested: "zbadano 1, %s",
			Tested: "zbadano %s, średnia %s", Deviation: "odchylenie %s"},
		Files: Files{Decals: "kalkomanie", Proof: "próba na zwykłym papierze", Jigs: "szablony papierowe", Backers: "karty", JobSheet: "karta pracy",
			PressDecals: "kalkomanie dla drukarni", BlackDecals: "kalkomanie w samej czerni", PressBackers: "karty dla drukarni", OrderForShop: "zamówienie dla drukarni"},
		Names: names(pagePolish(), [...]string{"biała folia kalkomanii wodnej", "przezroczysta folia kalkomanii wodnej", "bibułka pod lakierem", "przezroczysta folia do przecierania", "przezroczysta folia do przenoszenia na skórę",
			"biała folia samoprzylepna", "biały papier samoprzylepny", "biały karton 300 g/m²", "zwykły papier 80 g/m²"}),
		Steps: polishSteps(), Order: polishOrder(), Tests: polishTests(),
	}
}
