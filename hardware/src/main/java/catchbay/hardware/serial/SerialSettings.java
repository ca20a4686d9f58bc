package catchbay.hardware.serial;

import catchbay.port.PortSettings;

import com.fazecast.jSerialComm.SerialPort;

import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.Collectors;

/**
 * How a line is set.
 *
 * @param port the path of its device
 * @param baud bits a second
 * @param dataBits 7 or 8
 * @param parity jSerialComm's number for it
 * @param stopBits 1 or 2
 * @param goneNanos how long the device may be away before the line counts as gone, ns
 */
record SerialSettings(
        String port, int baud, int dataBits, int parity, int stopBits, long goneNanos) {

    private static final Set<Integer> BAUDS =
            Set.of(300, 600, 1200, 2400, 4800, 9600, 19200, 38400, 57600, 115200, 230400);

    private static final Map<String, Integer> PARITIES =
            Map.of(
                    "none",
                    SerialPort.NO_PARITY,
                    "even",
                    SerialPort.EVEN_PARITY,
                    "odd",
                    SerialPort.ODD_PARITY);

    private static final double GONE_SECONDS = 10;

    /** Where Linux keeps the terminals whose other end is a program (pts(4)). */
    private static final Path PSEUDO_TERMINALS = Path.of("/dev/pts");

    /** The line's part of a settings section; what cannot be is refused there. */
    static SerialSettings of(PortSettings settings) {
        return of(settings, SerialDevices.HERE);
    }

    /** As {@link #of(PortSettings)}, among these devices. */
    static SerialSettings of(PortSettings settings, SerialDevices devices) {
        String port = port(settings, devices);
        long baud = settings.whole("baud", 300, 230_400, 9600);
        if (!BAUDS.contains((int) baud)) {
            throw settings.refused(
                    "baud",
                    "a speed of "
                            + baud
                            + " bits/s is not in use on serial lines; use one of "
                            + BAUDS.stream().sorted().toList());
        }
        String parity = settings.optionalText("parity").orElse("none");
        if (!PARITIES.containsKey(parity)) {
            throw settings.refused(
                    "parity", "the parity '" + parity + "' is not known; use none, even or odd");
        }
        return new SerialSettings(
                port,
                (int) baud,
                (int) settings.whole("data_bits", 7, 8, 8),
                PARITIES.get(parity),
                (int) settings.whole("stop_bits", 1, 2, 1),
                (long) (1e9 * settings.number("gone_seconds", 1, 600, GONE_SECONDS)));
    }

    /**
     * A bare number is refused and not only warned about: after the next plugging it may lead to
     * the truck controller in place of the scale, and nothing on that line would say so.
     */
    private static String port(PortSettings settings, SerialDevices devices) {
        String port = settings.text("port");
        if (port.isBlank() || port.indexOf('\0') >= 0) {
            throw settings.refused(
                    "port",
                    "the port must be the path of a serial device, such as /dev/serial/by-id/...");
        }
        Path given = Path.of(port);
        if (!SerialDevices.isNumbered(given)) {
            return port;
        }
        List<Path> same = devices.lastingOf(given);
        String mend;
        if (!same.isEmpty()) {
            mend = "name it by " + listed(same) + ", which leads to the same device";
        } else if (!devices.lasting().isEmpty()) {
            mend = "no lasting name leads to it now; there are " + listed(devices.lasting());
        } else {
            mend = "plug the adapter in and take its name from /dev/serial/by-id";
        }
        throw settings.refused(
                "port", port + " may be another device after the next plugging or start; " + mend);
    }

    private static String listed(List<Path> names) {
        return names.stream().map(Path::toString).collect(Collectors.joining(" or "));
    }

    /** Whether the path leads to a pseudo-terminal now; a path that leads nowhere does not. */
    boolean isPseudoTerminal() {
        try {
            return Path.of(port).toRealPath().startsWith(PSEUDO_TERMINALS);
        } catch (IOException nowhere) {
            return false;
        }
    }

    /** How it is set, in words for a person. */
    String words() {
        String even =
                parity == SerialPort.NO_PARITY ? "N" : parity == SerialPort.ODD_PARITY ? "O" : "E";
        return baud + " baud " + dataBits + even + stopBits;
    }

    /** How long a byte is on the wire, ns: start bit, data bits, parity, stop bits. */
    long byteNanos() {
        int bits = 1 + dataBits + (parity == SerialPort.NO_PARITY ? 0 : 1) + stopBits;
        return bits * 1_000_000_000L / baud;
    }
}
