package words

import (
	_ "embed"
	"strings"
	"sync"
)

// benchTable holds the sentences of the maker's own pages: English, German,
// French, Italian and Polish, a line each, apart by tabs.
//
//go:embed bench.tsv
var benchTable string

// benchSentences maps English to the others, in the order of the table.
var benchSentences = sync.OnceValue(func() map[string][]string {
	all := map[string][]string{}
	for line := range strings.Lines(benchTable) {
		parts := strings.Split(strings.TrimRight(line, "\r\n"), "\t")
		if len(parts) == 5 {
			all[parts[0]] = parts[1:]
		}
	}
	return all
})

// Bench returns what turns an English sentence of the maker's own pages into the
// language; one that is not in the table stays English.
func Bench(language string) func(string) string {
	at := map[string]int{"de": 0, "fr": 1, "it": 2, "pl": 3}
	i, ok := at[language]
	if !ok {
		return func(s string) string { return s }
	}
	all := benchSentences()
	return func(s string) string {
		if to, ok := all[s]; ok && to[i] != "" {
			return to[i]
		}
		return s
	}
}
