// Package typo measures how far a written word is from a known one, for messages that name the nearest.
//
// In: two words. Out: a number of slips of the pen. It knows no list of words.
package typo

// Distance is the least number of letters to insert, drop or change that turns a into b (Levenshtein, Soviet Physics
// Doklady 10, 1966). Its time grows with the product of the lengths: refuse very long words first.
func Distance(a, b string) int {
	s, t := []rune(a), []rune(b)
	row := make([]int, len(t)+1)
	for j := range row {
		row[j] = j
	}
	for i, c := range s {
		diagonal := row[0]
		row[0] = i + 1
		for j, e := range t {
			cost := diagonal
			if c != e {
				cost++
			}
			diagonal = row[j+1]
			row[j+1] = min(cost, row[j]+1, row[j+1]+1)
		}
	}
	return row[len(t)]
}
