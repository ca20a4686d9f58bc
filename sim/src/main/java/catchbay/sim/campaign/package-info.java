/**
 * The fault campaign: short sweeps on one stand-in bay, each played with its faults and without
 * them, and what the two must have in common; no physics and no faults of its own.
 */
package catchbay.sim.campaign;
