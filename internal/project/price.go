package project

import (
	q "railwright/internal/quantity"
)

// Labour returns the price of a task that takes the given seconds: rate x seconds / 3600, rounded
// half up to 0.001 of the currency, so that counts of it add up exactly.
func (p Prices) Labour(seconds int64) q.Money {
	const step = int64(q.MoneyUnit / 1000)
	return q.Money((int64(p.Rate)*seconds + 3600*step/2) / (3600 * step) * step)
}

// Laid returns the length of a cable that runs over the given length of routes with an allowance
// at each end, in whole 0.1 m, rounded up.
func Laid(routes, allowA, allowB q.Millimetres) q.Millimetres {
	return (routes + allowA + allowB).UpToDecimetre()
}

// Ordered returns what must be bought for a laid length: the waste added, in whole 0.1 m, rounded
// up.
func (c CableBasis) Ordered(laid q.Millimetres) q.Millimetres {
	return q.Millimetres(q.CeilDiv(int64(laid)*(1000+c.Waste), 1000)).UpToDecimetre()
}
