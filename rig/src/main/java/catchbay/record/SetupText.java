package catchbay.record;

import catchbay.metrology.TruckConstant;
import catchbay.run.RunSetup;

import com.fasterxml.jackson.databind.node.ObjectNode;

import java.time.LocalDate;
import java.util.Optional;

/**
 * A run's setup as text: the object {@code setup} in a trace's first line, and the same sections
 * and keys in a bay's settings. Keys, units, ranges and defaults are listed in {@code
 * src/docs/settings.md}.
 */
public final class SetupText {

    private SetupText() {}

    /**
     * Reads a setup; what is missing and has a documented default takes it. Whether the parts fit
     * each other is not judged here but by {@link catchbay.run.SetupCheck}.
     *
     * @param document where the sections stand; the caller finishes it, so that it may hold other
     *     sections too
     * @param dayOtherwise the run's day where the document names none; empty = the document must
     *     name it
     * @throws DocumentException with a sentence, when a value is missing, unreadable or out of its
     *     range
     */
    public static RunSetup read(Fields document, Optional<LocalDate> dayOtherwise) {
        return new SetupReader(document).read(dayOtherwise);
    }

    /**
     * The canonical text form: every key, in a fixed order, in units that lose nothing.
     *
     * @throws IllegalArgumentException when the setup holds something that no text form could have
     *     given, such as a duration out of range: a trace that begins with it could never be read
     *     again
     */
    public static ObjectNode write(RunSetup setup) {
        ObjectNode written = SetupWriter.write(setup);
        RunSetup again;
        try {
            Fields fields = Fields.recorded(written, path -> "setup");
            again = read(fields, Optional.empty());
            fields.finish();
        } catch (DocumentException unreadable) {
            throw new IllegalArgumentException(
                    "setup cannot be written down: " + unreadable.getMessage(), unreadable);
        }
        if (!again.equals(setup)) {
            throw new IllegalArgumentException(
                    "setup reads back differently: " + again + " instead of " + setup);
        }
        return written;
    }

    /** The key of a truck's constant in a bay's settings. */
    public static String constantKey(TruckConstant constant) {
        return SetupWriter.constantKey(constant);
    }
}
