/**
 * Many whole catches by seeds belong here, and the table of what they came to; single cases stand
 * with the world.
 */
package catchbay.sim.campaign;
