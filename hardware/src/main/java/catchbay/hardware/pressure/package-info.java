/**
 * Reading the gauge at the bay's coupler through the kernel's converters belongs here; what its
 * pressure means for a truck does not.
 */
package catchbay.hardware.pressure;
