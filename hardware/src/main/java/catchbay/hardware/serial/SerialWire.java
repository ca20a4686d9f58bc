package catchbay.hardware.serial;

import catchbay.port.PortException;

import com.fazecast.jSerialComm.SerialPort;

import java.io.IOException;
import java.nio.file.AccessDeniedException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;

/**
 * One open serial line, for one thread. Held exclusively: no other program can open it meanwhile.
 */
final class SerialWire implements AutoCloseable {

    // Linux error numbers: errno(3).
    private static final int EPERM = 1;
    private static final int ENOENT = 2;
    private static final int EIO = 5;
    private static final int ENXIO = 6;
    private static final int EAGAIN = 11;
    private static final int EACCES = 13;
    private static final int EBUSY = 16;
    private static final int ENODEV = 19;

    private final SerialPort port;

    private SerialWire(SerialPort port) {
        this.port = port;
    }

    /** Opens the line as it is set, and throws away what came before. */
    static SerialWire open(SerialSettings settings) throws PortException {
        // Resolved here and at each opening: jSerialComm would look under /dev for a path that is
        // missing.
        Path device = device(settings.port());
        try {
            SerialPort port = SerialPort.getCommPort(device.toString());
            port.setComPortParameters(
                    settings.baud(), settings.dataBits(), settings.stopBits(), settings.parity());
            port.setFlowControl(SerialPort.FLOW_CONTROL_DISABLED);
            // A waiting read may return early after a time-out (known issue 575), so the reader
            // keeps its own pace.
            port.setComPortTimeouts(SerialPort.TIMEOUT_NONBLOCKING, 0, 0);
            if (!port.openPort()) {
                throw refusal(settings.port(), device, port.getLastErrorCode());
            }
            // The kernel lets us in where somebody reads already without a lock, and gives each
            // byte to one of the two.
            if (!SerialDevices.HERE.othersHolding(device).isEmpty()) {
                port.closePort();
                throw refusal(settings.port(), device, EBUSY);
            }
            port.flushIOBuffers();
            return new SerialWire(port);
        } catch (LinkageError failure) {
            throw new PortException(
                    PortException.Kind.UNFIT,
                    "The serial library cannot be loaded; the folder for temporary files must allow"
                            + " programs to run.",
                    failure);
        }
    }

    /** Reads what has come, at once; -1 when the device is gone. */
    int read(byte[] into) {
        return port.readBytes(into, into.length);
    }

    /** Sends the bytes; false when the device is gone. */
    boolean write(byte[] bytes) {
        return port.writeBytes(bytes, bytes.length) == bytes.length;
    }

    @Override
    public void close() {
        port.closePort();
    }

    private static Path device(String given) throws PortException {
        try {
            return Path.of(given).toRealPath();
        } catch (AccessDeniedException refused) {
            throw refusal(given, Path.of(given), EACCES);
        } catch (IOException missing) {
            List<Path> there = SerialDevices.HERE.lasting();
            throw new PortException(
                    PortException.Kind.MISSING,
                    "There is no serial line "
                            + given
                            + leadingNowhere(Path.of(given))
                            + ". Check that its adapter is plugged in; "
                            + (there.isEmpty()
                                    ? "none is listed under /dev/serial."
                                    : "there are " + joined(there) + "."),
                    missing);
        }
    }

    /** What a link without an end is said to be; nothing of what is no link. */
    private static String leadingNowhere(Path given) {
        try {
            return Files.isSymbolicLink(given)
                    ? ": it is a link to "
                            + Files.readSymbolicLink(given)
                            + ", and nothing is there"
                    : "";
        } catch (IOException changed) {
            return "";
        }
    }

    /**
     * Why a line that is there could not be opened.
     *
     * @param given its path in the settings
     * @param device where that leads
     */
    static PortException refusal(String given, Path device, int errorNumber) {
        return switch (errorNumber) {
            // jSerialComm itself says ENOENT of a line that this very program has open.
            case EAGAIN, EBUSY, ENOENT ->
                    new PortException(
                            PortException.Kind.BUSY,
                            held(given, SerialDevices.HERE.othersHolding(device), errorNumber));
            case EACCES, EPERM ->
                    new PortException(
                            PortException.Kind.FORBIDDEN,
                            forbidden(
                                    given,
                                    System.getProperty("user.name"),
                                    SerialDevices.group(device)));
            case EIO, ENXIO, ENODEV ->
                    new PortException(
                            PortException.Kind.MISSING,
                            "The serial line "
                                    + given
                                    + " has no device behind it. Check that its adapter is plugged"
                                    + " in.");
            default ->
                    new PortException(
                            PortException.Kind.UNFIT,
                            given
                                    + " is not a serial line "
                                    + otherKind(device, errorNumber)
                                    + ". Name a serial device, such as one under"
                                    + " /dev/serial/by-id.");
        };
    }

    private static String otherKind(Path device, int errorNumber) {
        if (Files.isDirectory(device)) {
            return "but a folder";
        }
        return Files.isRegularFile(device) ? "but a file" : "(error " + errorNumber + ")";
    }

    private static String held(
            String given, Collection<SerialDevices.Holder> holders, int errorNumber) {
        if (!holders.isEmpty()) {
            return "The serial line "
                    + given
                    + " is held by "
                    + joined(holders)
                    + ". Stop what holds it, and keep it off this line.";
        }
        return errorNumber == ENOENT
                ? "The serial line "
                        + given
                        + " is open in this program already. Give each port of the settings a line"
                        + " of its own."
                : "The serial line "
                        + given
                        + " is held by another program that this user may not see. sudo fuser -v "
                        + given
                        + " names it; stop that program.";
    }

    private static String forbidden(String given, String user, Optional<String> group) {
        return "The serial line "
                + given
                + " may not be used by the user "
                + user
                + ". "
                + group.map(name ->
                                "It belongs to the group "
                                        + name
                                        + ": add the user to it (sudo usermod -aG "
                                        + name
                                        + " "
                                        + user
                                        + ") and log in again.")
                        .orElse(
                                "Let an administrator give it to a group that may read and write it"
                                    + " (a udev rule with GROUP=\"dialout\", MODE=\"0660\"), add"
                                    + " the user to that group and log in again.");
    }

    private static String joined(Collection<?> things) {
        return things.stream().map(Object::toString).collect(Collectors.joining(" and "));
    }
}
