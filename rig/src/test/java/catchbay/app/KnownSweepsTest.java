package catchbay.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import catchbay.record.DocumentException;
import catchbay.record.SweepText;
import catchbay.record.SweepText.Begun;
import catchbay.record.SweepText.Entered;
import catchbay.record.TraceLine;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.function.Executable;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/** What is known of the sweeps in a data folder. */
final class KnownSweepsTest {

    private static final Instant NOON = Instant.parse("2026-11-02T12:00:00Z");

    private static KnownSweeps.Found sweep(String name, boolean done) {
        return sweep(name, done, Optional.empty(), Optional.empty());
    }

    private static KnownSweeps.Found sweep(
            String name, boolean done, Optional<Begun> begun, Optional<Entered> entered) {
        return new KnownSweeps.Found(
                name,
                new SweepText.Kept(
                        name,
                        "TRUCK-1",
                        "",
                        begun,
                        Optional.empty(),
                        entered,
                        true,
                        Set.of(),
                        done,
                        Optional.empty(),
                        List.of()));
    }

    private static KnownSweeps of(KnownSweeps.Found... sweeps) {
        return new KnownSweeps(List.of(sweeps), List.of());
    }

    private static String refusal(Executable refused) {
        return assertThrows(DocumentException.class, refused).getMessage();
    }

    /** Between the look for the sweep to go on with and the lock another program may end it. */
    @Test
    void aSweepThatHasChangedSinceItWasLookedForIsNotGoneOnWith() {
        KnownSweeps.Found looked = of(sweep("A", false)).toResume("A");
        assertEquals(looked, of(sweep("A", false)).unchanged(looked));
        assertEquals(
                "sweep A was gone on with by another program while this one began; see catchbay"
                        + " history --sweeps, and begin again",
                refusal(() -> of(sweep("A", true)).unchanged(looked)));
    }

    @Test
    void onlyASweepThatWasInterruptedIsGoneOnWith() {
        KnownSweeps known = of(sweep("B", true), sweep("A", false));
        assertEquals("A", known.toResume("A").kept().sweep());
        assertEquals(
                "sweep B was not interrupted, but has come to its end; begin a new one",
                refusal(() -> known.toResume("B")));
        assertEquals(
                "no interrupted sweep is called 'C'; there are A",
                refusal(() -> known.toResume("C")));
    }

    @Test
    void ofAFileThatCannotBeReadIsNothingGoneOnWith() {
        KnownSweeps known = new KnownSweeps(List.of(), List.of("A"));
        assertEquals(
                "the file of sweep A cannot be read, so that it cannot be gone on with; restore it"
                        + " from a copy, or begin a new sweep",
                refusal(() -> known.toResume("A")));
        assertEquals(
                "the file of sweep A cannot be read, so that nobody knows whether it was"
                        + " interrupted; restore it from a copy, take it out of the data folder, or"
                        + " begin anew with --anew",
                refusal(known::refuseUnknown));
    }

    /** The clock of a bay without a network may stand anywhere after a power cut. */
    @Test
    void whatCameFirstTheRecordsTellAndNotTheClock() {
        Instant wrong = Instant.parse("2024-01-01T00:00:00Z");
        KnownSweeps.Found first = sweep("A", false, begun(NOON, 10), Optional.empty());
        Optional<Entered> since = Optional.of(new Entered(wrong, 15, 2990));
        KnownSweeps later = of(first, sweep("B", true, begun(wrong, 12), since));
        assertEquals(List.of(), later.interrupted());
        assertEquals(
                "sweep A cannot be gone on with: since it began sweep B has entered a constant of"
                        + " 2990.0 in truck TRUCK-1, so that its catches are no longer of the truck"
                        + " as it is; begin a new one",
                refusal(() -> later.toResume("A")));
        Optional<Entered> before = Optional.of(new Entered(NOON.plusSeconds(3600), 10, 2990));
        KnownSweeps earlier = of(first, sweep("B", true, begun(NOON, 7), before));
        assertEquals("A", earlier.toResume("A").kept().sweep());
    }

    private static Optional<Begun> begun(Instant wall, long records) {
        return Optional.of(new Begun(wall, records, TraceLine.Origin.BAY, 3000));
    }
}
