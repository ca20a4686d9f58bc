package catchbay.app;

import java.io.IOException;
import java.time.Instant;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.Locale;

/** Names for what is recorded: when it began, and of what; numbered when one second sees two. */
final class FreeName {

    private static final DateTimeFormatter BEGUN =
            DateTimeFormatter.ofPattern("yyyyMMdd-HHmmss", Locale.ROOT).withZone(ZoneOffset.UTC);

    private FreeName() {}

    /** Whether something is recorded under a name already. */
    @FunctionalInterface
    interface Taken {
        boolean test(String name) throws IOException;
    }

    /** The name of what begins now, of this truck or kind. */
    static String at(Instant now, String of, Taken taken) throws IOException {
        String stem = BEGUN.format(now) + "-" + of;
        return taken.test(stem) ? after(stem, taken) : stem;
    }

    /** The name of what follows on something that has this one. */
    static String after(String stem, Taken taken) throws IOException {
        String name = stem + "-2";
        for (int i = 3; taken.test(name); i++) {
            name = stem + "-" + i;
        }
        return name;
    }
}
