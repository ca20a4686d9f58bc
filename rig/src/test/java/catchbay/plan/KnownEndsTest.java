package catchbay.plan;

import static org.junit.jupiter.api.Assertions.assertEquals;

import catchbay.quantity.FlowRate;
import catchbay.quantity.VolumeUnit;

import org.junit.jupiter.api.Test;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;

/** What a plan says of a flow where hunts have found the ends of the truck's range. */
final class KnownEndsTest {

    private static final KnownEnds BOTH =
            new KnownEnds(
                    Optional.of(
                            new KnownEnds.Low(
                                    "20260105-080000-low",
                                    LocalDate.of(2026, 1, 5),
                                    Optional.of(gallons(2)),
                                    gallons(2.5))),
                    Optional.of(
                            new KnownEnds.High(
                                    "20260106-080000-high",
                                    LocalDate.of(2026, 1, 6),
                                    gallons(20),
                                    Optional.of(gallons(25)))));

    private static FlowRate gallons(double perMinute) {
        return FlowRate.perMinute(perMinute, VolumeUnit.US_GALLON);
    }

    private static void says(KnownEnds ends, double flow, int refusals, int warnings) {
        assertEquals(refusals, ends.refusals(gallons(flow)).size(), () -> "refused at " + flow);
        assertEquals(warnings, ends.warnings(gallons(flow)).size(), () -> "warned at " + flow);
    }

    @Test
    void whatIsKnownIsRefusedAndWhatIsNotKnownIsWarnedOf() {
        says(BOTH, 1, 1, 0);
        says(BOTH, 2, 1, 0);
        says(BOTH, 2.01, 0, 1);
        says(BOTH, 2.49, 0, 1);
        says(BOTH, 2.5, 0, 0);
        says(BOTH, 20, 0, 0);
        says(BOTH, 20.1, 0, 1);
        says(BOTH, 24.9, 0, 1);
        says(BOTH, 25, 1, 0);
        says(BOTH, 100, 1, 0);
    }

    @Test
    void ofAnEndThatWasNotSeenNothingIsRefused() {
        KnownEnds open =
                new KnownEnds(
                        BOTH.low()
                                .map(low ->
                                        new KnownEnds.Low(
                                                low.hunt(),
                                                low.day(),
                                                Optional.empty(),
                                                low.counting())),
                        BOTH.high()
                                .map(high ->
                                        new KnownEnds.High(
                                                high.hunt(),
                                                high.day(),
                                                high.followed(),
                                                Optional.empty())));
        says(open, 0.1, 0, 1);
        says(open, 10, 0, 0);
        says(open, 100, 0, 1);
        says(KnownEnds.NONE, 0.1, 0, 0);
    }

    @Test
    void theSentenceNamesTheHuntAndItsDay() {
        assertEquals(
                List.of(
                        "At 1 US gal/min the truck's meter does not count, as hunt"
                                + " 20260105-080000-low of 2026-01-05 found, and a controller whose"
                                + " meter is silent opens its valve fully; ask for 2.5 US gal/min"
                                + " or more, or hunt again (catchbay hunt low)."),
                BOTH.refusals(gallons(1)));
        assertEquals(
                List.of(
                        "It is not known whether the truck follows 22 US gal/min: hunt"
                                + " 20260106-080000-high of 2026-01-06 saw it follow up to 20 US"
                                + " gal/min."),
                BOTH.warnings(gallons(22)));
    }
}
