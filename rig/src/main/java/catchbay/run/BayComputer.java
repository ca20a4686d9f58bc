package catchbay.run;

import java.time.Instant;
import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.OptionalLong;
import java.util.Set;

/**
 * What the bay's computer said of itself while a run went on. It is told beside a result and is
 * never part of one: no step of a run sees it.
 *
 * @param powerFlags the firmware's bits on the supply, all that were set at any time; empty where
 *     the computer does not tell. Bits 0 to 3 are of the moment, bits 16 to 19 the same since its
 *     start
 * @param clockDoubts why the calendar time is not to be trusted; none: it is; empty where nobody
 *     looked
 * @param freeBytes the least free space on the medium of the traces; empty where nobody looked
 */
public record BayComputer(
        OptionalInt powerFlags, Optional<Set<ClockDoubt>> clockDoubts, OptionalLong freeBytes) {

    /** Nothing was told. */
    public static final BayComputer UNKNOWN =
            new BayComputer(OptionalInt.empty(), Optional.empty(), OptionalLong.empty());

    /** The highest flags that can be told. */
    public static final int POWER_FLAGS_MAX = 0xfffff;

    // The firmware's bits, as the documentation of vcgencmd get_throttled has them (from memory).
    private static final int UNDER_VOLTAGE = 0x10001;
    private static final int SLOWED = 0xe000e;

    /** Why the calendar time is not to be trusted. */
    public enum ClockDoubt {
        /** Nobody has set it since the start, and no battery keeps it. */
        UNSET,
        /** It leapt while the program ran. */
        STEPPED,
        /** It is before the last run on record. */
        BEHIND_RECORDS
    }

    public BayComputer {
        clockDoubts = clockDoubts.map(Set::copyOf);
    }

    /** Only how the clock is. */
    public static BayComputer ofClock(Set<ClockDoubt> doubts) {
        return new BayComputer(OptionalInt.empty(), Optional.of(doubts), OptionalLong.empty());
    }

    /** Only how much space is free. */
    public static BayComputer ofFreeBytes(long bytes) {
        return new BayComputer(OptionalInt.empty(), Optional.empty(), OptionalLong.of(bytes));
    }

    /**
     * What the records say of the clock: it cannot be right when a run begins before the last one.
     *
     * @param began when the run begins, by that clock
     * @param newest when the last run on record began; empty before the first
     */
    public static BayComputer begun(Instant began, Optional<Instant> newest) {
        return newest.filter(began::isBefore).isPresent()
                ? ofClock(Set.of(ClockDoubt.BEHIND_RECORDS))
                : UNKNOWN;
    }

    /** This and what was told besides: every flag and doubt of both, and the lesser space. */
    public BayComputer and(BayComputer other) {
        OptionalInt flags = powerFlags;
        if (other.powerFlags.isPresent()) {
            flags = OptionalInt.of(powerFlags.orElse(0) | other.powerFlags.getAsInt());
        }
        Optional<Set<ClockDoubt>> doubts = clockDoubts;
        if (other.clockDoubts.isPresent()) {
            Set<ClockDoubt> both = EnumSet.noneOf(ClockDoubt.class);
            both.addAll(clockDoubts.orElse(Set.of()));
            both.addAll(other.clockDoubts.get());
            doubts = Optional.of(both);
        }
        OptionalLong free = freeBytes;
        if (other.freeBytes.isPresent()) {
            free =
                    OptionalLong.of(
                            Math.min(
                                    freeBytes.orElse(Long.MAX_VALUE), other.freeBytes.getAsLong()));
        }
        return new BayComputer(flags, doubts, free);
    }

    /** Whether the calendar time is to be trusted; empty where nobody looked. */
    public Optional<Boolean> clockTrusted() {
        return clockDoubts.map(Set::isEmpty);
    }

    /** What a person should know of it, a sentence each; none while all is well. */
    public List<String> notes() {
        List<String> notes = new ArrayList<>();
        int flags = powerFlags.orElse(0);
        if ((flags & UNDER_VOLTAGE) != 0) {
            notes.add(
                    "The bay's computer was short of voltage"
                            + sinceWhen(flags & UNDER_VOLTAGE)
                            + "; lines and disk may fail without a cause of their own. Give it a"
                            + " stronger supply and a short, thick cable.");
        }
        if ((flags & SLOWED) != 0) {
            notes.add(
                    "The bay's computer slowed itself down"
                            + sinceWhen(flags & SLOWED)
                            + " because of its supply or its warmth. Look after both.");
        }
        clockDoubts
                .filter(doubts -> !doubts.isEmpty())
                .ifPresent(doubts ->
                        notes.add(
                                "The clock of the bay's computer is not to be trusted: "
                                        + String.join(", and ", words(doubts))
                                        + ". Day and time may be wrong, and so"
                                        + " may be the days by which certificates were"
                                        + " judged; what was measured does not depend on"
                                        + " it. Set the clock, or connect it to a time"
                                        + " server."));
        return notes;
    }

    /** The lower bits are of the moment, and so of the run. */
    private static String sinceWhen(int flags) {
        return (flags & 0xffff) != 0 ? " during this run" : " at some time since its start";
    }

    static List<String> words(Set<ClockDoubt> doubts) {
        return doubts.stream()
                .sorted()
                .map(doubt ->
                        switch (doubt) {
                            case UNSET ->
                                    "nobody has set it since the start, and no battery"
                                            + " keeps it";
                            case STEPPED -> "it leapt while the program ran";
                            case BEHIND_RECORDS -> "it is before the last run on record";
                        })
                .toList();
    }
}
