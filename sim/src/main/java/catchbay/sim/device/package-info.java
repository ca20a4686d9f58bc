/**
 * Stand-in devices that speak over real pseudo-terminals on the real clock, so that the serial code
 * of a bay can be tried without a bay, belong here; anything that lives in virtual time does not.
 */
package catchbay.sim.device;
