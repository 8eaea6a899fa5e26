// Package spare computes reserves and the rules of thumb of conventional wiring.
//
// A reserve of 25 % means two things in the trade: a share of what is used, or a share of the whole.
// OfUsed and OfTotal name which; ChannelsFor reserves a share of the used channels, the stricter
// reading for the shop (25 % of 40 used: 10 spare, 50 in all).
package spare
