/**
 * A plan of points and repeats, and the forecast of what it will achieve, how long it takes and
 * what liquid it needs, belong here; the course of a single catch does not, nor does anything that
 * moves.
 */
package catchbay.plan;
