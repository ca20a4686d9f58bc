package catchbay.sim.device;

import java.util.Arrays;
import java.util.Locale;
import java.util.stream.Collectors;

/** What can be wrong with what a stand-in device sends. */
public enum LineFault {
    /** Nothing is wrong. */
    NONE,
    /** It sends nothing at all, and answers nothing. */
    SILENT,
    /** Three in four frames are cut short, have a byte changed, or have noise before them. */
    GARBLE,
    /** Up to 40 bytes of any kind come before every frame, and the frame is whole. */
    NOISE,
    /** Two in a hundred of all bits are changed. */
    FLIP,
    /** Every byte comes alone. */
    FRAGMENT,
    /** Every frame comes in two pieces, cut one byte further on than the one before. */
    SPLIT,
    /** Every frame comes three times in one piece. */
    MERGE,
    /** The scale says that its load is moving; nothing else is wrong. */
    MOTION;

    /** The fault called so; fails with a sentence that lists the known ones. */
    static LineFault called(String name) {
        for (LineFault fault : values()) {
            if (fault.name().toLowerCase(Locale.ROOT).equals(name)) {
                return fault;
            }
        }
        throw new IllegalArgumentException(
                "unknown fault '"
                        + name
                        + "'; use "
                        + Arrays.stream(values())
                                .map(fault -> fault.name().toLowerCase(Locale.ROOT))
                                .collect(Collectors.joining(", ")));
    }
}
