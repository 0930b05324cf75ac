package tank

import "math"

// meanOf returns the mean and the experimental standard deviation of one of
// the values (JCGM 100:2008, 4.2.2); the deviation of a single value is 0.
func meanOf(values []float64) (mean, s float64) {
	n := float64(len(values))
	for _, v := range values {
		mean += v
	}
	mean /= n
	if n < 2 {
		return mean, 0
	}
	sum := 0.0
	for _, v := range values {
		sum += float64((v - mean) * (v - mean))
	}
	return mean, math.Sqrt(sum / (n - 1))
}

// freedom returns the effective degrees of freedom of the root sum of
// independent standard uncertainties (Welch-Satterthwaite, JCGM 100:2008,
// G.4.1); infinite when no u with finite degrees is above 0.
func freedom(us, nus []float64) float64 {
	sum := 0.0
	for i, u := range us {
		if !math.IsInf(nus[i], 1) {
			sum += u * u * u * u / nus[i]
		}
	}
	if sum == 0 {
		return math.Inf(1)
	}
	c := rootSum(us...)
	return c * c * c * c / sum
}

// studentTable is Student's factor for 95.45 % and 1, 2, ... 20 degrees of
// freedom (JCGM 100:2008, table G.2; a test computes it anew), and its steps
// after that.
var studentTable = [...]float64{13.97, 4.53, 3.31, 2.87, 2.65, 2.52, 2.43, 2.37, 2.32, 2.28,
	2.25, 2.23, 2.21, 2.20, 2.18, 2.17, 2.16, 2.15, 2.14, 2.13}

// student returns the coverage factor for 95.45 %, the level of k = 2, and nu
// degrees of freedom, those rounded down (JCGM 100:2008, G.4.1). Above 20 it
// keeps the factor of the last step, 2.13 and 2.03, and is 2 from 1000 on.
func student(nu float64) float64 {
	switch {
	case !(nu >= 1):
		return studentTable[0]
	case nu < float64(len(studentTable)+1):
		return studentTable[int(nu)-1]
	case nu < 100:
		return studentTable[len(studentTable)-1]
	case nu < 1000:
		return 2.03
	}
	return coverage
}

// grubbsTable is the critical value of the largest deviation over the standard
// deviation, for 3, 4, ... 20 values: Grubbs' test, two-sided, 5 % (F. E. Grubbs,
// Technometrics 11 (1969) 1; the values of ISO 5725-2, table 5, from memory; a
// test computes them anew from Student's distribution).
var grubbsTable = [...]float64{1.154, 1.481, 1.715, 1.887, 2.020, 2.127, 2.215, 2.290, 2.355, 2.412,
	2.462, 2.507, 2.548, 2.586, 2.620, 2.652, 2.681, 2.708}

// grubbs returns the critical value for n values, 3 at least; more than 20 are
// judged as 20, which tells of more.
func grubbs(n int) float64 { return grubbsTable[min(n-3, len(grubbsTable)-1)] }
