package catchbay.hardware.gpiochip;

import catchbay.port.PortSettings;

import java.util.Map;
import java.util.OptionalInt;
import java.util.TreeMap;

/** The lines of one chip that a port's settings name, each of them for one thing only. */
public final class LineNumbers {

    private static final int OFFSET_MAX = 1023;
    private static final long ABSENT = -1;

    private final PortSettings settings;
    private final Map<Long, String> used = new TreeMap<>();

    /** None is named yet. */
    public LineNumbers(PortSettings settings) {
        this.settings = settings;
    }

    /** The line that the key names; empty where the key is not there. */
    public OptionalInt at(String key) {
        long line = settings.whole(key, 0, OFFSET_MAX, ABSENT);
        if (line == ABSENT) {
            return OptionalInt.empty();
        }
        String other = used.putIfAbsent(line, key);
        if (other != null) {
            throw settings.refused(
                    key, "line " + line + " is already taken by " + other + "; name another line");
        }
        return OptionalInt.of((int) line);
    }
}
