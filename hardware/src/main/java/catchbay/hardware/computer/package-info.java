/**
 * What Linux and the board's firmware tell of the bay's own computer, its supply and its clock,
 * belongs here; what a run makes of it does not.
 */
package catchbay.hardware.computer;
