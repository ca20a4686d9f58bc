/**
 * Reading the machine's own clock and waiting on it belongs here; deciding what to wait for does
 * not.
 */
package catchbay.hardware.clock;
