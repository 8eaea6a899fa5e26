package power

import "strconv"

func decimal(n int) string { return strconv.Itoa(n) }
