/**
 * The one run loop, the settings, the commands and the program start belong here; rules of
 * measurement and anything that only a real or only a stand-in bay needs do not.
 */
package catchbay.app;
