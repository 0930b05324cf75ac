package tank

import (
	"math"

	"floatmark/loading/fault"
	"floatmark/loading/unit"
)

// Spread is how far repeats of one float stand apart.
type Spread struct {
	S       unit.Gram // standard deviation of one reading, grams of pull
	Freedom int       // degrees of freedom behind it; 0 when nothing was repeated
}

// Combined is what several readings of one float say together.
type Combined struct {
	Load    Load // weighted mean of the readings, with its own U
	Repeats []Repeat
	Spread  Spread  // what U was worked out from
	K       float64 // coverage factor of Load.U: 2, more when few repeats stand far apart
	// Apart tells that two readings differ by more than reading explains, and
	// two cannot tell which of them is off: test a third time.
	Apart bool
}

// Repeat is one of the readings.
type Repeat struct {
	Load    Load
	Weight  float64   // its share in the mean
	Off     unit.Gram // how far it stands from the mean, grams of pull
	Outlier bool      // by the rule told at Combine; it counts all the same
}

// maxRepeats is the most readings of one float that are taken for meant.
const maxRepeats = 1000

// notPooled is how many times the pooled spread a float's own may be for the
// pool to speak for it: two readings that belong to it exceed 1.96 once in 20
// (F distribution, 1 and many degrees of freedom).
const notPooled = 2

// sameWater is how far apart, in g/cm3, the waters of repeats may be: 10
// degrees are under 0.002 and sea water 0.026, in which the float itself
// carries more.
const sameWater = 0.005

// Combine returns the load of a float that was read several times at one stage.
//
// The mean is weighted by 1/u² of each reading, where they differ much. What is off the same way each
// time (the shot, the scale, the wetting, the densities) is not reduced by
// repeating (JCGM 100:2008, 5.2.2); only what the eye reads is, and it is taken
// from the spread of the repeats where that is larger than its budget (type A,
// 4.2.3), with Student's factor for few repeats (annex G). One reading gives
// the U of its Load.
//
// pooled is the spread of more floats than this one (Pool), which makes few
// repeats surer; the zero Spread is none. It is never taken below the float's
// own spread, and not at all when that is more than twice as large: the float
// is then not one of those.
//
// A reading is an outlier by Grubbs' test at 5 % when it also stands further
// off than reading explains, twice its standard uncertainty: four readings of
// which three agree to the last digit are not to make the fourth one a slip. An
// outlier is told and never dropped: whether it was a slip, the tank knows and
// a formula does not. Input error for no reading, for readings of different
// stages or waters, and for one that Load refuses.
func Combine(readings []Reading, pooled Spread) (Combined, error) {
	loads, err := repeats(readings)
	if err != nil {
		return Combined{}, err
	}
	n := float64(len(loads))
	c := Combined{Load: loads[0], K: coverage, Repeats: make([]Repeat, len(loads))}
	mean := 0.0
	for i, w := range weights(loads) {
		c.Repeats[i] = Repeat{Load: loads[i], Weight: w}
		mean += float64(c.Repeats[i].Weight * float64(loads[i].Pull))
	}
	squares := 0.0
	for i := range c.Repeats {
		off := float64(loads[i].Pull) - mean
		c.Repeats[i].Off = unit.Gram(off)
		squares += float64(c.Repeats[i].Weight * float64(off*off))
		if loads[i].Tip != c.Load.Tip {
			c.Load.Tip = TipUnknown
		}
	}
	c.Load.Pull = unit.Gram(mean)
	if n > 1 {
		c.Spread = Spread{unit.Gram(math.Sqrt(squares * n / (n - 1))), len(loads) - 1}
	}
	own := float64(c.Spread.S)
	if pooled.Freedom > c.Spread.Freedom && own <= notPooled*float64(pooled.S) {
		c.Spread = Spread{max(c.Spread.S, pooled.S), pooled.Freedom}
	}
	c.expand(readings)
	c.tell(readings, own)
	return c, nil
}

// alike is how far apart the uncertainties of readings may be for them to count
// alike. A doubt that grows with the mass would otherwise draw the mean towards
// the smaller reading. Estimate.
const alike = 1.25

// weights returns the shares of the readings in the mean; their sum is 1.
func weights(loads []Load) []float64 {
	least, most := loads[0].U, loads[0].U
	for _, l := range loads {
		least, most = min(least, l.U), max(most, l.U)
	}
	ws, sum := make([]float64, len(loads)), 0.0
	for i, l := range loads {
		ws[i] = 1
		if most > alike*least {
			ws[i] = 1 / float64(l.U*l.U)
		}
		sum += ws[i]
	}
	for i := range ws {
		ws[i] /= sum
	}
	return ws
}

// repeats works out the load of each reading and refuses what is no repeat.
func repeats(readings []Reading) ([]Load, error) {
	if len(readings) == 0 || len(readings) > maxRepeats {
		return nil, fault.Inputf("give from 1 to 1000 readings of a float", "%d readings are none of one float", len(readings))
	}
	loads := make([]Load, len(readings))
	for i, r := range readings {
		l, err := r.Load()
		switch {
		case err != nil:
			return nil, err
		case l.Stage != readings[0].Stage:
			return nil, fault.Inputf("combine readings of one stage; a finished float against one before is a retest",
				"readings taken %s and %s are no repeats", readings[0].Stage, l.Stage)
		case !(math.Abs(l.Water.Density()-readings[0].Water.Density()) <= sameWater):
			return nil, fault.Inputf("combine readings taken in one water", "readings in fresh and in salt water are no repeats")
		}
		loads[i] = l
	}
	return loads, nil
}

// expand works out U: what all readings share adds up linearly with the
// weights, part by part; what each has for itself adds up in squares.
func (c *Combined) expand(readings []Reading) {
	var names []string
	shared := map[string]float64{} // read by names, in their order
	random, byBudget := 0.0, true
	for i, r := range readings {
		w := c.Repeats[i].Weight
		for _, p := range r.Budget() {
			u := float64(p.U)
			if p.Name != partWaterline {
				if _, seen := shared[p.Name]; !seen {
					names = append(names, p.Name)
				}
				shared[p.Name] += float64(w * u)
				continue
			}
			if c.Spread.Freedom > 0 && float64(c.Spread.S) > u {
				u, byBudget = float64(c.Spread.S), false
			}
			random += float64(float64(w*u) * float64(w*u))
		}
	}
	us, nus := []float64{math.Sqrt(random)}, []float64{math.Inf(1)}
	if !byBudget {
		nus[0] = float64(c.Spread.Freedom)
	}
	for _, name := range names {
		us, nus = append(us, shared[name]), append(nus, math.Inf(1))
	}
	c.K = student(freedom(us, nus))
	c.Load.U = unit.Gram(c.K * rootSum(us...))
}

// tell marks outliers, and two readings that are apart.
func (c *Combined) tell(readings []Reading, own float64) {
	n := len(readings)
	if n < 2 {
		return
	}
	mean := meanParts(readings, c.Repeats)
	for i, r := range readings {
		explained := 0.0
		for _, p := range r.Budget() {
			u := float64(p.U)
			switch p.Name {
			case partWaterline, partScale, partMeniscus:
			default:
				// Shared by all, so only what differs from the others shows.
				u -= mean[p.Name]
			}
			explained += float64(u * u)
		}
		// The mean moves with the reading: a deviation from it shows less.
		limit := coverage * math.Sqrt(explained*(1-1/float64(n)))
		off := math.Abs(float64(c.Repeats[i].Off))
		switch {
		case !(off > limit):
		case n == 2:
			c.Apart = true
		case off > grubbs(n)*own:
			c.Repeats[i].Outlier = true
		}
	}
}

func meanParts(readings []Reading, repeats []Repeat) map[string]float64 {
	mean := map[string]float64{}
	for i, r := range readings {
		for _, p := range r.Budget() {
			mean[p.Name] += float64(repeats[i].Weight * float64(p.U))
		}
	}
	return mean
}

// Pool returns the spread that repeats of several floats show together: each
// set by its degrees of freedom (JCGM 100:2008, H.1.3.2 does so). Sets of one
// reading say nothing. Input error as Combine.
func Pool(sets ...[]Reading) (Spread, error) {
	sum, nu := 0.0, 0
	for _, set := range sets {
		if len(set) < 2 {
			continue
		}
		loads, err := repeats(set)
		if err != nil {
			return Spread{}, err
		}
		var pulls []float64
		for _, l := range loads {
			pulls = append(pulls, float64(l.Pull))
		}
		_, s := meanOf(pulls)
		sum += float64(float64(len(set)-1) * float64(s*s))
		nu += len(set) - 1
	}
	if nu == 0 {
		return Spread{}, nil
	}
	return Spread{unit.Gram(math.Sqrt(sum / float64(nu))), nu}, nil
}
