/**
 * What a measurement is worth (liquid density, buoyancy, reference curve and certificate, truck
 * constant, uncertainty, decision rule) belongs here; the course of a run and the way its result is
 * kept do not.
 */
package catchbay.metrology;
