package catchbay.sim.campaign;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.sim.Fault;
import catchbay.sim.FaultKind;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Set;
import java.util.stream.Stream;

/**
 * Short sweeps in which things go wrong, each with its faults and without. The whole campaign is
 * {@code src/campaign}; one seed again or fresh ones: {@code -Dcatchbay.sweeps=FROM-TO}.
 */
final class SweepCampaignTest {

    private static final String SEEDS = System.getProperty("catchbay.sweeps", "1-100");

    /** Of these seeds: fewer would show that faults are drawn and do nothing. */
    private static final int KINDS_LEAST = 35;

    @Test
    void noSweepAcceptsAWrongResult() {
        String[] ends = SEEDS.split("-");
        long first = Long.parseLong(ends[0]);
        long last = Long.parseLong(ends[1]);
        List<String> complaints = new ArrayList<>();
        Set<FaultKind> begun = EnumSet.noneOf(FaultKind.class);
        Set<SweepCheck.End> came = EnumSet.noneOf(SweepCheck.End.class);
        for (long seed = first; seed <= last; seed++) {
            SweepCheck check = SweepCheck.of(DrawnSweep.of(seed, DrawnSweep.Size.SHORT));
            if (!check.complaints().isEmpty()) {
                complaints.add(check.report());
            }
            for (SweepCheck.Strike strike : check.strikes()) {
                begun.add(strike.fault().kind());
                came.add(strike.end());
            }
        }
        assertEquals(List.of(), complaints, () -> String.join("\n", complaints));
        if (last - first >= 99) {
            assertTrue(begun.size() >= KINDS_LEAST, "only these began: " + begun);
            assertEquals(EnumSet.allOf(SweepCheck.End.class), came);
        }
    }

    /**
     * What the campaign has found: its seed, and what went wrong.
     *
     * @param faults each as its text
     */
    private record Found(long seed, String... faults) {

        DrawnSweep sweep() {
            return DrawnSweep.of(seed, DrawnSweep.Size.SHORT)
                    .with(Stream.of(faults).map(Fault::parsed).toList());
        }

        @Override
        public String toString() {
            return "seed " + seed;
        }
    }

    private static List<Found> found() {
        return List.of(
                // A truck that gave more than it was asked filled a tank that was not emptied
                // because just what was asked had room.
                new Found(
                        22,
                        "scale-garbled since=run after_s=7.853798123 for_s=14.218977561"
                                + " size=0.8269656354729942 line=speed"),
                new Found(
                        46,
                        "truck-meter-dead since=catch after_s=14.627638295 for_s=0 size=0.0"
                                + " line=reference"),
                // An attendant who was asked as one catch ended was missed as the next began.
                new Found(
                        154,
                        "line-noise since=catch after_s=0.190126126 for_s=1.788660363"
                                + " size=32.44039107004821 line=reference"),
                new Found(
                        190,
                        "program-stalled since=catch after_s=17.800660805 for_s=3.812423084"
                                + " size=0.0 line=reference"),
                // A scale that was put right showed the tank lighter than before, or emptied of
                // less than it had held.
                new Found(
                        96,
                        "scale-drift since=catch after_s=5.319909655 for_s=0"
                                + " size=0.3643614330533079 line=reference"),
                new Found(
                        1265,
                        "scale-leant-on since=catch after_s=6.549585275 for_s=0"
                                + " size=9.047752214658619 line=reference"),
                // A person ended one standing catch later than another.
                new Found(
                        2069,
                        "pump-sag since=catch after_s=10.792572868 for_s=19.699386212"
                                + " size=0.46788296350898617 line=reference"),
                new Found(
                        2392,
                        "scale-drift since=catch after_s=21.708752261 for_s=0"
                                + " size=2.814814270954103 line=reference"),
                new Found(
                        4605,
                        "reader-stalled since=run after_s=27.004751751 for_s=4.111862253 size=0.0"
                                + " line=reference",
                        "truck-meter-dead since=run after_s=2.433529286 for_s=0 size=0.0"
                                + " line=speed"),
                new Found(
                        6688,
                        "thermometer-garbled since=catch after_s=12.335971896 for_s=0"
                                + " size=0.43303748913583834 line=truck"),
                // A controller that had made up for a sagging pump or a stuck valve in vain gave
                // too much when that was over.
                new Found(
                        4710,
                        "pump-sag since=catch after_s=10.169095559 for_s=26.390793821"
                                + " size=0.6352666888075106 line=reference-second"),
                new Found(
                        9713,
                        "controller-reset since=catch after_s=8.934735129 for_s=0 size=0.0"
                                + " line=reference",
                        "wrong-liquid since=run after_s=0 for_s=0 size=0.055824954157126315"
                                + " line=reference",
                        "valve-stuck since=run after_s=20.855803223 for_s=6.397908517 size=0.0"
                                + " line=reference"),
                // Edges that no pulse made scattered a part of an even train so much that it passed
                // for an uneven one.
                new Found(
                        5185,
                        "stray since=catch after_s=4.304097159 for_s=11.62400325 size=130.0"
                                + " line=truck",
                        "nozzle-clogged since=run after_s=0 for_s=0 size=0.0 line=truck"),
                // Noise came while nothing flowed yet, or so seldom that no edge of it came.
                new Found(
                        4499,
                        "scale-moving since=catch after_s=12.995032883 for_s=5.234404041 size=0.0"
                                + " line=reference-second",
                        "line-noise since=catch after_s=7.124014891 for_s=21.863030498"
                                + " size=56.945214625540274 line=reference-second"),
                new Found(
                        2461,
                        "line-noise since=catch after_s=10.441873414 for_s=6.522132179"
                                + " size=0.576619491061442 line=reference-second"),
                // A constant from what nobody could notice made the truck give twice what was
                // asked.
                new Found(
                        8209,
                        "line-dead since=catch after_s=4.291130255 for_s=17.839226918 size=0.0"
                                + " line=reference",
                        "nozzle-clogged since=run after_s=0 for_s=0 size=0.0 line=truck",
                        "thermometer-spike since=catch after_s=17.625961521 for_s=13.426311723"
                                + " size=23.05290896815114 line=truck"),
                // Every third pulse was lost, so regularly that it passed for the meter's nature.
                new Found(
                        19637,
                        "lost-every since=catch after_s=0.649471204 for_s=0 size=3.0"
                                + " line=reference",
                        "truck-meter-off since=catch after_s=2.998093397 for_s=0"
                                + " size=0.04890663553879813 line=reference"),
                // A leak of the tank was nearly over when the standing window opened.
                new Found(
                        15204,
                        "tank-leak since=catch after_s=1.572793146 for_s=15.807970571"
                                + " size=0.07829045856686194 line=speed"),
                // Noise on the reference's line filled a tank whose room is known.
                new Found(
                        17239,
                        "line-noise since=catch after_s=1.129185394 for_s=0 size=33.8054767223271"
                                + " line=reference"),
                // A truck with a constant from what nobody could notice filled the tank.
                new Found(
                        12024,
                        "scale-frozen since=catch after_s=6.500720093 for_s=0 size=0.0"
                                + " line=reference"));
    }

    @ParameterizedTest
    @MethodSource("found")
    void whatWasFoundStaysMended(Found found) {
        SweepCheck check = SweepCheck.of(found.sweep());
        assertEquals(List.of(), check.complaints(), check::report);
    }

    /** Ten points, three repeats, catches as long as a bay's. */
    @Test
    void aWholeSweepGoesWellToo() {
        SweepCheck check = SweepCheck.of(DrawnSweep.of(2, DrawnSweep.Size.WHOLE));
        assertEquals(List.of(), check.complaints(), check::report);
        assertTrue(check.catches() >= 2 * 10 * 3, () -> "only " + check.catches());
    }

    /** One seed is one sweep, whoever plays it and when. */
    @Test
    void aSweepIsPlayedTheSameAgain() {
        DrawnSweep drawn = DrawnSweep.of(5, DrawnSweep.Size.SHORT);
        List<byte[]> once = traces(PlayedSweep.of(drawn, true));
        List<byte[]> again = traces(PlayedSweep.of(DrawnSweep.of(5, DrawnSweep.Size.SHORT), true));
        assertEquals(once.size(), again.size());
        for (int i = 0; i < once.size(); i++) {
            assertTrue(once.get(i).length > 1_000);
            assertTrue(java.util.Arrays.equals(once.get(i), again.get(i)), "leg " + (i + 1));
        }
    }

    private static List<byte[]> traces(PlayedSweep sweep) {
        return sweep.catches().stream().map(PlayedSweep.Caught::trace).toList();
    }
}
