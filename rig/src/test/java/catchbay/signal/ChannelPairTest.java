package catchbay.signal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.seeded.Seeds;
import catchbay.signal.ChannelPair.Parting;
import catchbay.signal.ChannelPair.Side;
import catchbay.signal.ChannelPair.Sign;

import org.junit.jupiter.api.Test;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.random.RandomGenerator;

/**
 * Pulse by pulse comparison of two shifted channels (the idea of ISO 6551 and API MPMS 5.5, from
 * memory): every single pulse that is missed or added on one of them is found, in even and in
 * uneven trains, and a train in which nothing is amiss never parts.
 */
final class ChannelPairTest {

    private static final long PERIOD = 10_000_000L;
    private static final long OPEN = 50 * PERIOD + 3_000_000L;
    private static final long CLOSE = 250 * PERIOD + 7_000_000L;

    /** Stamps of one channel, edges from {@code phase} of a period on. */
    private static List<Long> even(double phase, int count) {
        List<Long> stamps = new ArrayList<>();
        for (int i = 0; i < count; i++) {
            stamps.add(Math.round((i + phase) * PERIOD));
        }
        return stamps;
    }

    private static EdgeBatch batch(List<Long> stamps) {
        return EdgeBatch.of(1, stamps.stream().mapToLong(Long::longValue).toArray());
    }

    /**
     * A flying window over both channels, which reach the program in turns of {@code turnNanos}.
     */
    private static ChannelPair flying(List<Long> first, List<Long> second, long turnNanos) {
        ChannelPair pair = ChannelPair.idle(0);
        long end = 1 + Math.max(first.getLast(), second.getLast());
        for (long from = 0; from < end; from += turnNanos) {
            pair = turn(pair, Side.FIRST, first, from, from + turnNanos);
            pair = turn(pair, Side.SECOND, second, from, from + turnNanos);
            // The stamps of a window come after its edges.
            pair = within(OPEN + 300_000_000L, from, turnNanos) ? pair.open(OPEN, false) : pair;
            pair = within(CLOSE + 300_000_000L, from, turnNanos) ? pair.close(CLOSE) : pair;
        }
        return pair;
    }

    private static boolean within(long stamp, long from, long turnNanos) {
        return stamp >= from && stamp < from + turnNanos;
    }

    private static ChannelPair turn(
            ChannelPair pair, Side side, List<Long> stamps, long from, long to) {
        List<Long> now = stamps.stream().filter(at -> at >= from && at < to).toList();
        return now.isEmpty() ? pair : pair.take(side, batch(now));
    }

    private static Optional<Parting> partingOf(List<Long> first, List<Long> second) {
        ChannelPair whole = flying(first, second, 20_000_000L);
        assertEquals(whole.parting(), whole.partingAtLast());
        for (long turn : new long[] {1_000_000L, 7_300_000L, 120_000_000L}) {
            assertEquals(
                    whole.parting().isPresent(),
                    flying(first, second, turn).parting().isPresent(),
                    "turns of " + turn + " ns");
        }
        return whole.parting();
    }

    @Test
    void evenChannelsNeverPartWhateverTheirShift() {
        for (double shift : new double[] {0.02, 0.25, 0.5, 0.75, 0.98}) {
            assertEquals(Optional.empty(), partingOf(even(0.1, 300), even(0.1 + shift, 300)));
            assertEquals(Optional.empty(), partingOf(even(0.1 + shift, 300), even(0.1, 300)));
        }
    }

    @Test
    void onePulseMissedOnEitherChannelIsFoundAndNamed() {
        for (int missed : new int[] {51, 100, 249, 250}) {
            List<Long> lacking = even(0.5, 300);
            lacking.remove(missed);
            Parting first = partingOf(lacking, even(0.75, 300)).orElseThrow();
            assertEquals(Side.SECOND, first.side());
            assertEquals(Sign.OTHER_LACKS_ONE, first.sign());
            Parting second = partingOf(even(0.25, 300), lacking).orElseThrow();
            assertEquals(Side.FIRST, second.side());
            assertEquals(Sign.OTHER_LACKS_ONE, second.sign());
        }
    }

    /** Wherever between two pulses it falls. */
    @Test
    void onePulseAddedOnEitherChannelIsFoundAndNamed() {
        for (double at : new double[] {0.03, 0.2, 0.3, 0.5, 0.9}) {
            List<Long> more = even(0, 300);
            more.add(101, Math.round((100 + at) * PERIOD));
            Parting first = partingOf(more, even(0.25, 300)).orElseThrow();
            assertEquals(Side.FIRST, first.side(), "added at " + at);
            assertEquals(Sign.ONE_TOO_MANY, first.sign(), "added at " + at);
            Parting second = partingOf(even(0.25, 300), more).orElseThrow();
            assertEquals(Side.SECOND, second.side(), "added at " + at);
        }
    }

    /** Two counters would agree; the order does not. */
    @Test
    void oneMissedAndOneAddedDoNotMakeUpForEachOther() {
        List<Long> first = even(0, 300);
        first.remove(150);
        first.add(201, Math.round(200.6 * PERIOD));
        first.sort(null);
        assertEquals(300, first.size());
        assertTrue(partingOf(first, even(0.25, 300)).isPresent());
    }

    @Test
    void whatHappensOutsideTheWindowIsNoMatter() {
        for (int missed : new int[] {3, 40, 49, 253, 290}) {
            List<Long> lacking = even(0, 300);
            lacking.remove(missed);
            assertEquals(Optional.empty(), partingOf(lacking, even(0.25, 300)));
            assertEquals(Optional.empty(), partingOf(even(0.25, 300), lacking));
        }
    }

    /** Two pulses that bracket an end of the window may have lost theirs inside it. */
    @Test
    void onePulseMissedAtAnEndOfTheWindowIsFound() {
        // The window opens at 50.3 and closes at 250.7 periods.
        List<Long> lacking = even(0.5, 300);
        lacking.remove(50);
        assertTrue(partingOf(lacking, even(0.75, 300)).isPresent());
        List<Long> last = even(0.5, 300);
        last.remove(250);
        assertTrue(partingOf(last, even(0.75, 300)).isPresent());
    }

    /** A rotor that turns one way keeps the order however unevenly it turns. */
    @Test
    void unevenTrainsNeverPartByThemselvesAndAlwaysByOnePulse() {
        Seeds.forSeeds(
                200,
                random -> {
                    List<Long> first = new ArrayList<>();
                    List<Long> second = new ArrayList<>();
                    double at = 0.1;
                    for (int i = 0; i < 300; i++) {
                        first.add(Math.round(at * PERIOD));
                        at += random.nextDouble(0.05, 0.8);
                        second.add(Math.round(at * PERIOD));
                        at += random.nextDouble(0.05, 1.2);
                    }
                    assertEquals(Optional.empty(), partingOf(first, second));
                    strike(random.nextBoolean() ? first : second, random);
                    assertTrue(partingOf(first, second).isPresent());
                });
    }

    /** Takes one pulse out of the window, or puts one in. */
    private static void strike(List<Long> stamps, RandomGenerator random) {
        int index = indexIn(stamps, OPEN + PERIOD * 3, CLOSE - PERIOD * 3, random);
        if (random.nextBoolean()) {
            stamps.remove(index);
        } else {
            long added = random.nextLong(stamps.get(index) + 1, stamps.get(index + 1));
            stamps.add(index + 1, added);
        }
    }

    private static int indexIn(List<Long> stamps, long from, long to, RandomGenerator random) {
        List<Integer> within = new ArrayList<>();
        for (int i = 0; i < stamps.size(); i++) {
            if (stamps.get(i) > from && stamps.get(i) < to) {
                within.add(i);
            }
        }
        return within.get(random.nextInt(within.size()));
    }

    @Test
    void aChannelThatFallsSilentIsNamedWithinASecondAndSoIsOneThatNeverSpoke() {
        ChannelPair dead = ChannelPair.idle(0).take(Side.FIRST, batch(even(0, 60)));
        dead = dead.take(Side.SECOND, batch(even(0.25, 60))).open(OPEN, false);
        List<Long> more = even(60, 50);
        assertEquals(Optional.empty(), dead.take(Side.FIRST, batch(more)).parting());
        Parting parting = dead.take(Side.FIRST, batch(even(60, 120))).parting().orElseThrow();
        assertEquals(Sign.OTHER_SILENT, parting.sign());
        assertEquals(Side.FIRST, parting.side());
        ChannelPair never = ChannelPair.idle(0).open(0, true);
        assertEquals(
                Sign.OTHER_SILENT,
                never.take(Side.SECOND, batch(even(0, 150))).parting().orElseThrow().sign());
        assertEquals(
                Sign.EITHER,
                never.take(Side.SECOND, batch(even(0, 5))).partingAtLast().orElseThrow().sign());
    }

    /** Both lines wait for their reader; what it then brings is in order all the same. */
    @Test
    void aReaderThatStoodStillForSecondsPartsNothing() {
        ChannelPair pair = ChannelPair.idle(0).open(0, true);
        pair = pair.take(Side.FIRST, batch(even(0, 500)));
        pair = pair.take(Side.SECOND, batch(even(0.25, 500)));
        assertEquals(Optional.empty(), pair.parting());
        assertEquals(Optional.empty(), pair.close(501 * PERIOD).partingAtLast());
    }

    /** Flow starts and stops within: it may begin and end on either channel. */
    @Test
    void aStandingWindowMayBeginAndEndOnEitherChannel() {
        for (int ended = 99; ended <= 101; ended++) {
            for (double phase : new double[] {0.25, -0.75}) {
                ChannelPair pair = ChannelPair.idle(0);
                // It came to rest after a pulse of the first; that one counts no more.
                pair = pair.take(Side.FIRST, batch(even(0, 1))).open(2 * PERIOD, true);
                List<Long> first = even(10, 100);
                List<Long> second = even(10 + phase, phase < 0 ? ended + 1 : ended);
                boolean both = Math.abs(first.size() - second.size()) <= 1;
                pair = pair.take(Side.FIRST, batch(first)).take(Side.SECOND, batch(second));
                pair = pair.close(300 * PERIOD);
                boolean inTurn = phase > 0 ? ended < 101 : ended > 98 && ended < 101;
                assertEquals(inTurn && both, pair.partingAtLast().isEmpty(), ended + ", " + phase);
            }
        }
    }

    @Test
    void bouncesAreNoPulses() {
        List<Long> bouncing = new ArrayList<>();
        for (long stamp : even(0, 300)) {
            bouncing.add(stamp);
            bouncing.add(stamp + 100_000);
        }
        ChannelPair debounced = ChannelPair.idle(200_000).open(0, true);
        debounced = debounced.take(Side.FIRST, batch(bouncing));
        debounced = debounced.take(Side.SECOND, batch(even(0.25, 300)));
        assertEquals(Optional.empty(), debounced.partingAtLast());
        ChannelPair plain = ChannelPair.idle(0).open(0, true);
        plain = plain.take(Side.FIRST, batch(bouncing));
        plain = plain.take(Side.SECOND, batch(even(0.25, 300)));
        assertEquals(Sign.EITHER, plain.partingAtLast().orElseThrow().sign());
    }

    /** The heap stays small whatever one channel sends before a window. */
    @Test
    void whatRunsAheadIsBounded() {
        ChannelPair pair = ChannelPair.idle(0);
        long stamp = 0;
        for (int i = 0; i < 1000; i++) {
            long[] stamps = new long[1000];
            for (int k = 0; k < 1000; k++) {
                stamps[k] = stamp += 1000;
            }
            pair = pair.take(Side.FIRST, EdgeBatch.of(1, stamps));
            int ahead = pair.first().ahead() == null ? 0 : pair.first().ahead().edges();
            assertTrue(ahead <= ChannelPair.AHEAD_EDGES_MAX, ahead + " edges kept");
        }
        assertEquals(Sign.OTHER_SILENT, pair.open(1000, false).parting().orElseThrow().sign());
    }
}
