/**
 * Finite, ranged, unit-safe values (volume, mass, flow, temperature, ratio) and their exact unit
 * factors belong here; what an instrument does, formats of files and anything that happens in time
 * do not.
 */
package catchbay.quantity;
