/**
 * Talking to the service manager that started the program belongs here; what the program does as a
 * service does not.
 */
package catchbay.hardware.systemd;
