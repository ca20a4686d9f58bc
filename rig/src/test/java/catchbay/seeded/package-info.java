/**
 * Properties tested over many seeds: the harness belongs here, the properties stand with what they
 * are about.
 */
package catchbay.seeded;
