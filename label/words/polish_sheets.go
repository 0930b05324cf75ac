package words

func polishSteps() Steps {
	const (
		board   = " Porównaj numer z deską."
		varnish = "Najpierw wypróbuj lakier na ścinku: rozpuszczalnik rusza niektóre tusze i folie. Najpierw mgiełka, potem dwie cienkie warstwy, na kodzie satynowe lub matowe."
		mirror  = "Wydrukuj na zwykłym papierze, potem na folii, w rozmiarze rzeczywistym. Arkusz jest już lustrzany: nie odwracaj go jeszcze raz w oknie druku."
		close   = "Tnij tuż przy nadruku, a na szwie po linii."
	)
	return Steps{
		Test:   "Najpierw próba w zbiorniku i klasyfikacja: korpus uszczelniony, ciężarek wklejony, antenka lub równy jej ciężar na miejscu.",
		Rings:  "Jeśli ta karta wymienia pierścienie tła, natryśnij je teraz i wysusz.",
		Pencil: "Zaznacz dolną krawędź ołówkiem: mierz wzdłuż osi od dolnego końca. Obracaj spławik w pryzmie.",
		Retest: "Zbadaj ponownie jeden spławik każdej wyporności, potem daj je na karty. Folia i lakier zabierają około 0,01 g wyporności; malowanie po próbie zabiera 0,05 g i więcej.",
		Waterslide: []string{
			"Wydrukuj na zwykłym papierze, przyłóż do spławika, potem drukuj w rozmiarze rzeczywistym na błyszczącej stronie folii. Atrament: odetnij niezadrukowaną część arkusza, susz 30 minut lub dłużej, potem zabezpiecz 2 do 3 lekkimi warstwami lakieru bezbarwnego co 15 do 30 minut. Laser: tylko folia do drukarek laserowych. Napoczęty arkusz wchodzi czysty, prostą krawędzią naprzód.",
			"Tnij 0,5 do 1 mm poza nadrukiem na wolnych krawędziach, a na szwie po linii; białą folię dookoła po linii.",
			"Mocz 20 do 60 sekund, aż folia się ruszy. Zwilż korpus, nasuń folię szwem naprzeciw kodu, wypchnij wodę od środka; na ciasnych krzywiznach zmiękczacz do folii." + board,
			"Susz przez noc. " + varnish,
		},
		Vinyl: []string{
			"Wydrukuj na zwykłym papierze, przyłóż do spławika, potem drukuj na etykietach w rozmiarze rzeczywistym i wysusz tusz. Napoczęty arkusz wchodzi czystą, prostą krawędzią naprzód.",
			"Tnij po linii. Niepełne owinięcie zostawia przerwę na szwie: gruba folia położona na sobie odstaje, tak jak każda naklejka na cienkim trzonku.",
			"Wytrzyj korpus, odklej, połóż środek na kresce ołówka, przerwą naprzeciw kodu, i dociskaj od środka ku brzegom." + board,
			varnish + " Lakier musi przykryć brzegi: on je uszczelnia.",
		},
		Tissue: []string{
			"Przyklej bibułkę przednią krawędzią do zwykłego papieru i drukuj w rozmiarze rzeczywistym; wysusz. Najpierw zwilż ścinek lakierem: tusz nie może się rozpłynąć.",
			"Tnij tuż przy nadruku; rozerwany lub postrzępiony brzeg widać najmniej.",
			"Posmaruj korpus cienko lakierem, połóż bibułkę szwem naprzeciw kodu i dociskaj pędzlem od środka, aż będzie przejrzysta i gładka." + board,
			"Wysusz na twardo. " + varnish,
		},
		RubOn: []string{
			mirror + " Wysusz tusz, potem nałóż klej, jak podaje karta folii.",
			close,
			"Połóż folię drukiem w dół na kresce ołówka, szwem naprzeciw kodu, i przecieraj od środka tępym, gładkim narzędziem. Powoli unieś nośnik: gdzie tusz idzie z nim, połóż i przetrzyj jeszcze raz." + board,
			"Przetrzyj jeszcze raz przez papier ochronny. " + varnish,
		},
		SkinTransfer: []string{
			mirror + " Wysusz tusz, potem nałóż arkusz kleju bez pęcherzy, jak podaje karta folii.",
			close,
			"Zdejmij osłonę, połóż folię drukiem w dół na kresce ołówka, szwem naprzeciw kodu, zwilżaj tył gąbką, aż papier się zsunie, około pół minuty, zsuń papier i dociśnij folię." + board,
			"Susz przez noc. " + varnish,
		},
		ByHand: []string{
			"Wydrukuj szablony na zwykłym papierze w rozmiarze rzeczywistym, zmierz ich linie kontrolne i wytnij je.",
			"Owiń szablon wokół korpusu strzałkami w dół, sklej szew taśmą i odrysuj pierścienie i litery miękkim ołówkiem lub czubkiem igły.",
			"Zdejmij szablon i napisz tekst, który jego arkusz podaje dla tego spławika." + board,
			"Susz napis przez noc. " + varnish,
		},
	}
}

func polishOrder() Order {
	return Order{
		Head: "ZAMÓWIENIE DLA DRUKARNI", Ask: "Jeśli coś nie pasuje do Państwa maszyn: proszę zapytać przed zmianą.",
		QuantityDecals: "ilość, kalkomanie", QuantityCards: "ilość, karty", StockDecals: "podłoże, kalkomanie", StockCards: "podłoże, karty",
		DecalSheets: "Arkusze: %s, każdy raz: każda strona jest inna (decals-press.pdf; decals-black.pdf to samo w samej czerni)",
		CardSheets:  "Arkusze: %s, każdy raz: każda karta jest inna (backers-press.pdf)",
		Grain:       "; włókno wzdłuż długiego boku",
		Size:        "rozmiar", Trim: "cięcie", OtherForms: "inne formaty", Machine: "ploter tnący", Bleed: "spad", Black: "czerń", Mirrored: "lustrzane", White: "biel",
		SizeWant:     "Drukować w 100 %, bez dopasowania i zmniejszania: linia na każdym arkuszu musi mieć tyle, ile mówi.",
		TrimWant:     "Elementy tnie się wzdłuż koloru dodatkowego %q, którego się nie drukuje. To osobna ścieżka na warstwie cut.",
		FormsWant:    "decals-1.svg i następne: każda strona w mm z nazwanymi warstwami; decals-1.png i następne: to samo w samej czerni i bieli, punkt w punkt maszyny.",
		MachineWant:  "cut-1.svg i następne zawierają tylko ścieżkę cięcia każdej strony, w mm, z trzema znacznikami pasowania, które ma też strona.",
		BleedWant:    "Kolor, który dochodzi do cięcia, wychodzi za nie o %s; nic innego nie ma spadu.",
		BlackWant:    "Teksty i kody są w samej czerni (K 100 %%), bez overprintu. Kody składają się z całych punktów przy %s punktach na cal: nie skalować, nie wygładzać, nie rastrować ponownie.",
		MirroredWant: "Arkusze są już lustrzane: nie odwracać ich jeszcze raz.",
		WhiteWant:    "Bez białej farby: co jest białe, to podłoże.",
	}
}

func polishTests() Tests {
	const (
		round  = "wokół środka piłeczki do tenisa stołowego 40 mm, końcem na grubej linii poprzecznej"
		print  = "Wydrukuj w rozmiarze rzeczywistym (100 %) na tym, na czym drukuje się kody, z tymi samymi ustawieniami"
		smooth = ". Dociśnij go od środka ku brzegom i "
	)
	return Tests{
		AsMade: "%s, %s, tak jak robi to drukarka", Corrected: "%s, %s, poprawione według profilu %s drukarki %s",
		StoreNamed: "Zapisz; %s to nazwa, którą nadajesz tej drukarce:", StoreIt: "Zapisz:", Dots: Counted{"punkt", "punkty", "punktów"},

		Ruler:      "Linijka",
		RulerPrint: "Wydrukuj w rozmiarze rzeczywistym (100 %), bez dopasowania do strony, z podajnika i z ustawieniami, z którymi drukuje się nadruki.",
		RulerMeasure: "Mierz stalową linijką do ćwierci milimetra, zawsze od środka jednej linii do środka drugiej: " +
			"x wzdłuż góry, y wzdłuż lewego boku, d1 z lewej u góry do prawej u dołu, d2 z lewej u dołu do prawej u góry.",
		RulerTrue:      "W skali są x %s, y %s, d1 i d2 %s.",
		RulerCorrected: "Takie powinny być teraz, do %s. Jeśli są, nic nie trzeba robić; jeśli nie:",
		RulerOff:       "Twoja drukarka będzie się trochę różnić. Jeśli o 3 % lub więcej, strona była dopasowana do papieru: wydrukuj ją jeszcze raz.",
		RulerMargin:    "Margines (margin): 1 do 10 mm od każdej krawędzi arkusza są linie. Zapisz najmniejszą liczbę, której linia jest cała przy wszystkich czterech krawędziach.",

		Gain: "Rozlewanie tuszu, %s", GainMadeUp: "Z poprawką na tusz według profilu %s drukarki %s, %s %s: tu każda szczelina powinna być otwarta.",
		GainPrint:  print + ", i wysusz.",
		GainLook:   "Tusz wychodzi za każdą krawędź i zamyka jasne szczeliny. Te u góry mają 1 do 6 punktów. Spójrz przez lupę: która jest najwęższą, otwartą od końca do końca?",
		GainDiffer: "Jeśli szczeliny pionowe i poziome się różnią, weź większą liczbę. Jeśli żadna nie jest otwarta, użyj mniej tuszu lub innego papieru i wydrukuj jeszcze raz.",
		GainThen:   "Kody rysuje się potem cieńsze o tyle punktów, ile dodaje tusz.",

		Codes: "Wielkości kodów, %s", CodesCompare: "Do porównania: te same paski tak, jak są narysowane, bez poprawki na tusz.",
		CodesPrint:  print + ".",
		CodesCut:    "Wytnij paski. Owiń każdy wokół kołka, trzonka wiertła lub spławika o podanej średnicy, końcami z tyłu, i przytrzymaj taśmą.",
		CodesHold:   "Trzymaj telefon w odległości 12 cm, prosto przed kodem, potem 2 cm wyżej, niżej i z obu boków, zwrócony ku niemu. Kod jest czytelny, jeśli za każdym razem telefon w dwie sekundy podaje to, co mówi pasek. Wypróbuj każdy telefon, jaki mogą mieć twoi klienci.",
		CodesNote:   "Dla każdej wielkości kwadratów zapisz najcieńszy kołek, który czyta każdy telefon; none, jeśli takiego nie ma. Zrób to dla pasków zwykłych i osobno dla tych z napisem front: ich kody są poszerzone, by z przodu wyglądały na kwadratowe.",
		CodesMadeUp: "Te paski mają poprawkę na tusz według profilu %s drukarki %s, %s %s mniej, tak jak nadruki. Te do porównania nie powinny czytać się lepiej: jeśli się czytają, odczytaj próbę tuszu jeszcze raz: %s",
		CodesClosed: "Jeśli największe kwadraty nie czytają się na 12 mm i więcej, zamyka je tusz. Sprawdź, o ile punktów, potem wydrukuj ten arkusz jeszcze raz: %s",
		CodesType:   "Wpisz, co znalazłeś; kody są potem dobierane według tego. %s=10 znaczy, że zwykłe kwadraty z %s punktów czytają się do 10 mm, %sf=8, że te z napisem front czytają się do 8 mm:",
		StripPlain:  "zwykły", StripFront: "front", StripOn: "na %s", StripOff: "%s mniej",

		Duplex: "Przód i tył", OfBack: "%s, tył",
		Top: "góra (top)", Bottom: "dół (bottom)", Up: "w górę (up)", Down: "w dół (down)", Left: "w lewo (left)", Right: "w prawo (right)",
		DuplexPrint:   "Wydrukuj obie strony w rozmiarze rzeczywistym (100 %) po obu stronach jednego arkusza, obróconego wzdłuż długiej krawędzi.",
		DuplexHold:    "Trzymaj arkusz pod lampę lub okno, tą stroną do siebie i prosto. Karton nie przepuszcza światła: przekłuj go igłą przez środki obu krzyżyków na tyle.",
		DuplexRead:    "Oba krzyżyki tyłu widać na tutejszych skalach, których kreski są co %s. Jak daleko odchyla się każdy środek, do ćwierci milimetra, i w którą stronę? Odczytaj tak, jak widzisz z tej strony.",
		DuplexAgain:   "Jeśli tył odchyla się o więcej niż 5 mm, nie obrócono go wzdłuż długiej krawędzi lub jedną stronę dopasowano: wydrukuj jeszcze raz.",
		DuplexExample: "tu górny jest %s w prawo i %s w górę, dolny %s w lewo i ani w górę, ani w dół. Wpisz swoje wartości.",

		Proof:      "Próba na zwykłym papierze",
		ProofPrint: "Wydrukuj to na zwykłym papierze w rozmiarze rzeczywistym (100 %), z ustawieniami, z którymi będą drukowane nadruki.",
		ProofMeasure: "Zmierz linie kontrolne stalową linijką: każda musi mieć tyle, ile mówi, do %s. " +
			"Linijkami wzdłuż krawędzi można zmierzyć każdą długość, w obie strony.",
		ProofLabels:   "Połóż na arkuszu etykiet i trzymaj oba pod światło: każdy nadruk musi leżeć w swojej etykiecie.",
		ProofMirrored: "Wytnij nadruk i owiń nim jego spławik, stroną zadrukowaną do spławika, jak potem folia: jego końce muszą się zejść, jak zaplanowano.",
		ProofCut:      "Wytnij nadruk i owiń nim jego spławik: jego końce muszą się zejść, jak zaplanowano.",
		ProofThen:     "Potem drukuj same nadruki: leżą w tych samych miejscach. Jeśli któraś linia jest za długa lub za krótka, najpierw skalibruj drukarkę:",

		Stretch:         "Próba rozciągania: %s",
		StretchPrint:    "Wydrukuj w rozmiarze rzeczywistym (100 %): linie kontrolne mają wtedy 100 mm.",
		StretchCut:      "Tnij po liniach kreskowanych.",
		StretchLook:     "Spójrz wzdłuż obu krawędzi: zagięcie, fałdka lub odstająca krawędź to za dużo.",
		StretchLimit:    "Najwyższy pasek, który leży gładko bez zagięcia, jest granicą twojej folii. Gdzie dwie próby się różnią, weź niższy.",
		StretchStore:    "Zapisz. Jeśli najwyższy jest %s:",
		LayWaterslide:   "Namocz każdy pasek, ze zmiękczaczem, którego używasz, i połóż " + round + smooth + "wysusz.",
		LayVinyl:        "Odklej każdy pasek i połóż " + round + smooth + "zostaw na dzień.",
		LayTissue:       "Przyklej każdy pasek lakierem, którego używasz, " + round + smooth + "wysusz.",
		LayRubOn:        "Połóż każdy pasek, stroną zadrukowaną do piłeczki, " + round + ". Przetrzyj go od środka ku brzegom i zdejmij nośnik.",
		LaySkinTransfer: "Odklej każdy pasek i połóż, stroną zadrukowaną do piłeczki, " + round + ". Zwilż go od tyłu, zsuń papier i wysusz.",
	}
}
