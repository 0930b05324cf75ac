package bench

import (
	"net/http/httptest"
	"os"
	"slices"
	"strings"
	"testing"
)

// formRow are the first columns of label/words/forms.tsv: how the program says
// something, and how these pages do.
func formRow(t *testing.T) map[string]string {
	t.Helper()
	data, err := os.ReadFile("../../../../label/words/forms.tsv")
	if err != nil {
		t.Fatal(err)
	}
	rows := map[string]string{}
	for line := range strings.Lines(string(data)) {
		if columns := strings.Split(strings.TrimSuffix(line, "\n"), "\t"); len(columns) > 1 {
			rows[columns[0]] = columns[1]
		}
	}
	return rows
}

// Every message that the program makes for these pages has its row in the table of
// forms, and every row is still said: as a message, or as a word that messages are
// filled with.
func TestFormsOfMessages(t *testing.T) {
	forms, literals := programForms(t)
	rows := formRow(t)
	for form, at := range forms {
		if _, ok := rows[form]; !ok {
			t.Errorf("%s: label/words/forms.tsv has no row for %q", at, form)
		}
	}
	for row := range rows {
		if _, ok := forms[row]; ok {
			continue
		}
		if !slices.ContainsFunc(spelled(row), func(s string) bool { return literals[s] }) {
			t.Errorf("label/words/forms.tsv: nothing says %q any more", row)
		}
	}
	if len(forms) < 1500 {
		t.Errorf("only %d messages were found", len(forms))
	}
}

// spelled are the ways a word of the table stands in the code: alone, or before or
// after what it is put together with.
func spelled(row string) []string {
	return []string{row, strings.TrimPrefix(row, "%s"), strings.TrimSuffix(row, "%s"), strings.TrimSuffix(row, " %s")}
}

// What the program says is told in the reader's language, with its decimal sign:
// what went wrong, and what to do with a float that keeps no rating.
func TestMessagesInEachLanguage(t *testing.T) {
	a := demo(t)
	for language, want := range map[string][2]string{
		"en": {"there is no such pattern in this batch", "0.259 g under 10 g"}, "de": {"dieses Modell gibt es in dieser Serie nicht", "0,259 g unter 10 g"},
		"fr": {"ce modèle n’existe pas dans ce lot", "0,259 g au-dessous de 10 g"}, "it": {"questo modello", "0,259 g sotto 10 g"}, "pl": {"nie ma takiego modelu", "0,259 g poniżej 10 g"},
	} {
		for i, path := range []string{"b/26-11/patterns/99", "b/26-11/grade"} {
			r := httptest.NewRequest("GET", Path+path, nil)
			r.Header.Set("Accept-Language", language)
			if body := a.send(r).Body.String(); !strings.Contains(body, want[i]) {
				t.Errorf("%s in %s lacks %q: %s", path, language, want[i], body)
			}
		}
	}
}
