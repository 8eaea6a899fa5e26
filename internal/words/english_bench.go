package words

import "maps"

func init() { maps.Copy(english, englishBench) }

// englishBench holds the texts of the benchmark command.
var englishBench = map[string]string{
	"cmd.bench": "Plan made-up sites and measure cost, bound, time and memory.",
	"help.bench": "Makes up a site of the stated size by seed, plans it with the built-in hardware list, and prints sizes, cost, proven " +
		"lower bound, gap, seconds and peak memory, also by phase. The answer depends on the prices, so there are named price regimes: " +
		"cable-dear (cable labour four times the usual), balanced, stations-cheap (a quarter of the labour for a station). With --seeds N " +
		"each regime is planned N times, and a last row gives the median. --check runs the independent checker on each design.\n\n" +
		"Example:\n\n    railwright bench --signals 1000 --places 60 --candidates 30 --seed 1\n\n" +
		"Exit code: 0 done, 1 the checker found a broken law, 2 wrong usage, 3 the tool failed.",
	"app.bench_size":         "a site needs at least 1 signal (at most 200 000), 1 candidate, and no fewer places (at most 20 000) than candidates",
	"app.bench_regime":       "no price regime %q: say cable-dear, balanced or stations-cheap",
	"app.bench_construction": "the built-in hardware list has no construction %q: say rail, slice or block",
	"app.bench_stage":        "%s, seed %d: %s",
	"app.bench_failed":       "plan the %s site of seed %d",
	"app.bench_cancelled":    "cancelled",

	"phase.begin": "begin",

	"bench.head":     "%s signals, %s places, %s candidates",
	"bench.regime":   "prices",
	"bench.seed":     "seed",
	"bench.placed":   "placed",
	"bench.stations": "stations",
	"bench.modules":  "modules",
	"bench.cost":     "cost",
	"bench.bound":    "bound",
	"bench.gap":      "gap",
	"bench.seconds":  "s",
	"bench.peak":     "MB",
	"bench.median":   "median",
	"bench.phases":   "By phase, all sites together",
	"bench.phase":    "phase",
	"bench.valid":    "The independent checker found no broken law in %s.",
	"bench.invalid":  "The independent checker found %s in the site of %s, seed %d; the first: %s",
}
