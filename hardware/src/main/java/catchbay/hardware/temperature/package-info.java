/**
 * Asking the kernel for the temperatures of the bay's sensors belongs here; what its texts mean is
 * read in {@link catchbay.signal}.
 */
package catchbay.hardware.temperature;
