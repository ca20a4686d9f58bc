package catchbay.app;

import java.io.IOException;
import java.time.Instant;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.Locale;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** Names for what is recorded: when it began, and of what; numbered when one second sees two. */
final class FreeName {

    private static final DateTimeFormatter BEGUN =
            DateTimeFormatter.ofPattern("yyyyMMdd-HHmmss", Locale.ROOT).withZone(ZoneOffset.UTC);

    private static final Pattern GIVEN = Pattern.compile("[0-9]{8}-[0-9]{6}-(.+)");

    private static final int TRUCK_LENGTH_MAX = 32;

    private FreeName() {}

    /** Whether something is recorded under a name already. */
    @FunctionalInterface
    interface Taken {
        boolean test(String name) throws IOException;
    }

    /** A truck as names have it. */
    static String ofTruck(String asset) {
        String plain = asset.replaceAll("[^A-Za-z0-9_-]", "_");
        return plain.substring(0, Math.min(plain.length(), TRUCK_LENGTH_MAX));
    }

    /** Whether a name may be that of something of this truck; one that is not of ours may be. */
    static boolean maybeOfTruck(String name, String asset) {
        Matcher given = GIVEN.matcher(name);
        return !given.matches()
                || given.group(1).matches(Pattern.quote(ofTruck(asset)) + "(-[0-9]+)?");
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
