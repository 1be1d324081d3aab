package stats

import "math"

//go:generate go run gen_symmetricbeta.go

// shapeRule says which form of the tail a shape uses.
type shapeRule uint8

const (
	noShape    shapeRule = iota
	smallRule            // a = 1/2, 1, 3/2 to 15: piecewise polynomials
	seriesRule           // another a below leastLargeShape: a series of positive terms
	largeRule            // that series far out, an expansion in 1/a nearer the middle
)

const (
	// leastLargeShape is where 18 terms of the expansion in 1/a reach 1e-17.
	leastLargeShape = 10

	// seriesLimit is the s below which the series of positive terms converges in
	// two dozen terms and above which the expansion in 1/a does.
	seriesLimit = 0.1

	// tinyTail is below every s whose power of 15 comes near underflow.
	tinyTail = 1e-19
)

// tail returns I_s(a,a) = P(U > 1-2s) for s ≤ 1/2 to full relative accuracy.
func (b *SymmetricBeta) tail(s float64) float64 {
	switch {
	case !(s > 0):
		return 0
	case s >= 0.5:
		return 0.5
	case b.rule == smallRule && s > tinyTail:
		return smallTail(b.row, s)
	}
	return b.tailAt(pointOfTail(s))
}

// smallTail returns s^a·r(s), a = (row+1)/2, where r = I_s(a,a)/s^a has no
// singularity nearer than s = 1, so that on an eighth of the unit interval twelve
// powers reach rounding error, and one form, without a transcendental function,
// serves every small shape.
func smallTail(row uint8, s float64) float64 {
	piece := int(2*tailPieces*s) & (tailPieces - 1)
	c := &smallTails[row%uint8(len(smallTails))][piece]
	z := 4*tailPieces*s - float64(2*piece+1)
	z2 := z * z
	z4 := z2 * z2
	low := (c[0] + float64(c[1]*z)) + float64((c[2]+float64(c[3]*z))*z2)
	mid := (c[4] + float64(c[5]*z)) + float64((c[6]+float64(c[7]*z))*z2)
	high := (c[8] + float64(c[9]*z)) + float64((c[10]+float64(c[11]*z))*z2)
	r := low + float64((mid+float64((high+float64(c[12]*z4))*z4))*z4)
	if p := smallPower(row, s) * r; p < 0.5 {
		return p
	}
	return 0.5
}

// smallPower returns x^a, a = (row+1)/2, by squaring.
func smallPower(row uint8, x float64) float64 {
	r, k := 1.0, uint(row)+1
	if k&1 == 1 {
		r = math.Sqrt(x)
	}
	for k >>= 1; k > 0; k >>= 1 {
		if k&1 == 1 {
			r *= x
		}
		x *= x
	}
	return r
}

// tailAt returns the tail at a place near 1 or of a shape without a finite form.
func (b *SymmetricBeta) tailAt(at betaPoint) float64 {
	mantissa, exponent := at.power(b.a)
	if mantissa == 0 {
		return 0
	}
	return min(0.5, math.Ldexp(mantissa*b.ratioAt(at), exponent))
}

// ratioAt returns the tail over w^a, w = 1-u² = 4s(1-s), which changes slowly.
// Far out it is the series of positive terms
//
//	norm · Σ (2a)_k/(a+1)_k · s^k
func (b *SymmetricBeta) ratioAt(at betaPoint) float64 {
	if b.rule != largeRule || at.s < seriesLimit {
		return b.norm * tailSeries(b.a, at.s)
	}
	return b.tailExpansion(at.exponent())
}

// tailSeries returns Σ (2a)_k/(a+1)_k · s^k.
func tailSeries(a, s float64) float64 {
	sum, term := 1.0, 1.0
	for k := 0.0; term > sum*1e-17; k++ {
		term *= (2*a + k) / (a + 1 + k) * s
		sum += term
	}
	return sum
}

// tailExpansion returns the tail over w^a by
//
//	norm·√(πa) · Σ c_k · e^z·Γ(k+1/2, z)/(√π·a^k),   z = a·x,   x = -ln w
//
// where c_k are the coefficients of √(x/(1-e^-x)). With u² = 1-e^-x the density
// of √x is that root times e^(-ax), and the incomplete gamma functions follow
// from e^z·erfc(√z) by a recurrence of positive terms.
//
// Source: derived here; the method is that of uniform expansions of incomplete
// beta functions (N. M. Temme, from memory).
func (b *SymmetricBeta) tailExpansion(x float64) float64 {
	z := b.a * x
	gamma := scaledErfc(math.Sqrt(z))
	sum, step := gamma, math.Sqrt(x/(math.Pi*b.a))
	inverse := 1 / b.a
	for k := 1; k < len(rootExpansion); k++ {
		gamma = float64((float64(k)-0.5)*inverse*gamma) + step
		term := rootExpansion[k] * gamma
		sum += term
		if math.Abs(term) < 1e-17*sum && k > 2 {
			break
		}
		step *= x
	}
	return b.norm * math.Sqrt(math.Pi*b.a) * sum
}

// expansionScale returns norm·2√(πa), which makes the expansion 1/2 at x = 0.
func expansionScale(a float64) float64 {
	sum, gamma := 1.0, 1.0
	for k := 1; k < len(rootExpansion); k++ {
		gamma *= (float64(k) - 0.5) / a
		sum += rootExpansion[k] * gamma
		if gamma < 1e-15 {
			break
		}
	}
	return 1 / sum
}

// scaledErfc returns e^(y²)·erfc(y) for y ≥ 0.
func scaledErfc(y float64) float64 {
	square := float64(y * y)
	if y > 25 {
		sum, term := 1.0, 1.0
		for k := 1.0; k < 8; k++ {
			term *= -(k - 0.5) / square
			sum += term
		}
		return sum / (y * math.SqrtPi)
	}
	rest := math.FMA(y, y, -square)
	return math.Erfc(y) * math.Exp(square) * (1 + rest)
}
