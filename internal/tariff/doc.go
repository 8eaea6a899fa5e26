// Package tariff prices what holding signals costs a station, before any station exists.
//
// Begin with NewBook, which reads a project and a hardware list once; Book.At returns the Place of
// a site: its environment (the modules that may stand there, the classes and pools of signals that
// they make) and the prices that hold there. Siting asks Place and Env for the search tariff (PoolCost,
// StationCost), for the parts of the lower bound (Class, Pool, Group, Opening, Fixed; see
// docs/certificate.md) and packing takes from it every option and every step price, so that both
// count alike: Floor(set) <= what packing pays <= Roof(set).
//
// The package is pure. Money, currents and lengths are whole counts.
package tariff
