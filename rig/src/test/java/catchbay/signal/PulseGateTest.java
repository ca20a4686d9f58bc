package catchbay.signal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.seeded.Seeds;

import org.junit.jupiter.api.Test;

import java.util.Arrays;
import java.util.List;
import java.util.stream.IntStream;

/** What goes wrong with a line, and what a gate makes of it. */
final class PulseGateTest {

    private static final long SECOND = Trains.SECOND;
    private static final long MILLI = Trains.MILLI;
    private static final long OPEN = 2 * SECOND;
    private static final long CLOSE = 12 * SECOND;

    /** 100 Hz, off the window's stamps by 3 ms, from rest to rest well outside the window. */
    private static final long[] EVEN = Trains.steady(100, 3e6, 14e9);

    /** 100 Hz lies within 10 to 1000 Hz; bounces of less than 1 ms are left out. */
    private static final PulseRule DEBOUNCED =
            new PulseRule(
                    MILLI, PulseRule.LEAP_RATIO, PulseRule.EVEN_RATIO_MAX, 100 * MILLI, MILLI);

    private static final PulseRule RANGED =
            new PulseRule(
                    0, PulseRule.LEAP_RATIO, PulseRule.EVEN_RATIO_MAX, 100 * MILLI, 2 * MILLI);

    private static void assertUnusable(String part, PulseCount count) {
        String reason = assertInstanceOf(PulseCount.Unusable.class, count).reason();
        assertTrue(reason.contains(part), reason);
    }

    private static PulseCount flying(long[] stamps) {
        return Trains.flying(stamps, OPEN, CLOSE).flyingCount();
    }

    private static PulseCount flying(EdgeBatch... batches) {
        PulseGate gate = PulseGate.idle(PulseRule.plain()).await().open(OPEN, false).await();
        gate = gate.close(CLOSE);
        for (EdgeBatch batch : batches) {
            gate = gate.take(batch);
        }
        return gate.flyingCount();
    }

    /** The train in two batches, with numbers left out between them. */
    private static EdgeBatch[] numberGap(int at, int missing) {
        return new EdgeBatch[] {
            EdgeBatch.of(0, Arrays.copyOfRange(EVEN, 0, at)),
            EdgeBatch.of(at + missing, Arrays.copyOfRange(EVEN, at + missing, EVEN.length))
        };
    }

    // Lost and extra edges

    @Test
    void aNumberedGapInTheWindowIsEdgesLost() {
        PulseCount.EdgesLost lost =
                assertInstanceOf(PulseCount.EdgesLost.class, flying(numberGap(700, 3)));
        assertEquals(3, lost.missing());
    }

    @Test
    void aNumberedGapBeforeTheWindowIsHarmless() {
        int opening = Trains.after(EVEN, OPEN);
        for (int before = 2; before < 20; before++) {
            PulseCount.DoubleTimed count =
                    assertInstanceOf(
                            PulseCount.DoubleTimed.class,
                            flying(numberGap(opening - before, before - 1)),
                            "one edge is left after a gap of " + (before - 1));
            assertEquals(1000, count.pulses(), 1e-6);
        }
    }

    @Test
    void aNumberedGapAcrossEitherEndIsEdgesLost() {
        int opening = Trains.after(EVEN, OPEN);
        int closing = Trains.after(EVEN, CLOSE);
        for (int around : new int[] {opening, closing}) {
            for (int from = around - 3; from < around; from++) {
                assertInstanceOf(
                        PulseCount.EdgesLost.class, flying(numberGap(from, around - from)));
                assertInstanceOf(
                        PulseCount.EdgesLost.class, flying(numberGap(from, around - from + 1)));
            }
        }
    }

    /** Wherever in the window a pulse is missed, also across its ends, the leap shows. */
    @Test
    void anUnnumberedLostPulseLeaps() {
        int opening = Trains.after(EVEN, OPEN);
        int closing = Trains.after(EVEN, CLOSE);
        for (int i = opening - 1; i <= closing; i++) {
            PulseCount count = flying(Trains.without(EVEN, i));
            assertInstanceOf(PulseCount.Leaping.class, count, "edge " + (i - opening));
        }
        assertInstanceOf(PulseCount.DoubleTimed.class, flying(Trains.without(EVEN, opening - 3)));
        assertInstanceOf(PulseCount.DoubleTimed.class, flying(Trains.without(EVEN, closing + 1)));
    }

    /**
     * Flow that stops as the window closes, and one late drip: double timing would stretch over it.
     */
    @Test
    void flowStoppingAtTheClosingLeaps() {
        int closing = Trains.after(EVEN, CLOSE);
        long[] stamps = Arrays.copyOf(EVEN, closing + 1);
        stamps[closing] = CLOSE + 2 * SECOND;
        assertInstanceOf(PulseCount.Leaping.class, flying(stamps));
    }

    /**
     * An extra pulse anywhere in a period, also where the two parts do not leap against each other.
     */
    @Test
    void anUnnumberedExtraPulseLeaps() {
        int opening = Trains.after(EVEN, OPEN);
        for (int i : new int[] {opening, opening + 1, opening + 500}) {
            for (int part = 1; part < 100; part++) {
                long stamp = EVEN[i] + part * (EVEN[i + 1] - EVEN[i]) / 100;
                PulseCount count = flying(Trains.with(EVEN, i + 1, stamp));
                assertInstanceOf(PulseCount.Leaping.class, count, "at part " + part);
            }
        }
    }

    /**
     * A short train, too: a missed pulse makes two leaps of few spacings, which is not the train's
     * nature.
     */
    @Test
    void aLostPulseInAShortTrainLeaps() {
        long[] stamps = Trains.steady(0.5, 1e9, 15e9);
        assertInstanceOf(PulseCount.DoubleTimed.class, flying(stamps));
        assertInstanceOf(PulseCount.Leaping.class, flying(Trains.without(stamps, 3)));
    }

    // Bounce

    @Test
    void bouncesAreCountedAndLeftOut() {
        long[] bouncing = EVEN;
        for (int i = bouncing.length - 1; i >= 0; i -= 7) {
            bouncing = Trains.with(bouncing, i + 1, bouncing[i] + MILLI / 3);
        }
        PulseGate gate = Trains.flying(DEBOUNCED, EdgeBatch.of(0, bouncing), OPEN, CLOSE);
        assertEquals(
                1000,
                assertInstanceOf(PulseCount.DoubleTimed.class, gate.flyingCount()).pulses(),
                1e-6);
        assertTrue(gate.inside().bounces() > 100, gate::toString);
    }

    /** One bounce, or one at every pulse: without a debounce neither is ever counted as liquid. */
    @Test
    void bouncesWithoutDebounceAreNeverCounted() {
        for (int every : new int[] {1, 2, 3, 5, 10, 400}) {
            long[] bouncing = EVEN;
            for (int i = bouncing.length - 1; i >= 0; i -= every) {
                bouncing = Trains.with(bouncing, i + 1, bouncing[i] + MILLI / 3);
            }
            PulseGate gate = Trains.flying(RANGED, EdgeBatch.of(0, bouncing), OPEN, CLOSE);
            assertInstanceOf(
                    PulseCount.Leaping.class, gate.flyingCount(), "bounce at every " + every);
        }
    }

    /** A bounce that straddles the opening belongs to the edge before it. */
    @Test
    void aBounceAcrossTheOpeningIsNoPulse() {
        int opening = Trains.after(EVEN, OPEN);
        long open = EVEN[opening] + MILLI / 10;
        long[] bouncing = Trains.with(EVEN, opening + 1, EVEN[opening] + MILLI / 2);
        PulseGate gate =
                Trains.flying(DEBOUNCED, EdgeBatch.of(0, bouncing), open, open + 10 * SECOND);
        PulseCount.DoubleTimed count =
                assertInstanceOf(PulseCount.DoubleTimed.class, gate.flyingCount());
        assertEquals(1000, count.counted());
        assertEquals(1000, count.pulses(), 1e-6);
        assertEquals(1, gate.inside().bounces());
    }

    @Test
    void debounceMayNotReachAQuarterOfTheShortestPeriod() {
        PulseRule rule = DEBOUNCED;
        assertEquals(null, rule.refusalAt(250));
        String refusal = rule.refusalAt(251);
        assertTrue(
                refusal.startsWith(
                        "debounce of 1000 us is longer than 996.0 us, a quarter of the period at"
                                + " 251.0"),
                refusal);
        assertEquals(null, PulseRule.plain().refusalAt(1e9));
    }

    // Uneven trains

    /** Too uneven to be read between pulses, yet no pulse missing: whole pulses, and the reason. */
    @Test
    void unevenSpacingFallsBackToWholePulses() {
        Seeds.forSeeds(
                200,
                random -> {
                    long[] stamps = Trains.jittered(random, 100, 0.19, 3e6, 14e9);
                    PulseGate gate = Trains.flying(RANGED, EdgeBatch.of(0, stamps), OPEN, CLOSE);
                    PulseCount.Whole count =
                            assertInstanceOf(PulseCount.Whole.class, gate.flyingCount());
                    assertEquals(1000, count.counted(), 1);
                    assertTrue(count.why().contains("scatters by 1"), count.why());
                    assertTrue(count.scatter() > PulseRule.EVEN_RATIO_MAX);
                });
    }

    /**
     * A meter whose magnets sit unevenly (spacings 1 : 3) leaps at every pulse: that is its nature,
     * and no spacing is shorter than its range allows.
     */
    @Test
    void leapsThroughoutAreTheTrainsNature() {
        long[] stamps = new long[1400];
        for (int i = 0; i < stamps.length; i++) {
            stamps[i] = i / 2 * 20 * MILLI + i % 2 * 5 * MILLI + 3 * MILLI;
        }
        PulseGate gate = Trains.flying(RANGED, EdgeBatch.of(0, stamps), OPEN, CLOSE);
        PulseCount.Whole count = assertInstanceOf(PulseCount.Whole.class, gate.flyingCount());
        assertEquals(1000, count.counted(), 1);
        assertTrue(count.why().contains("leap"), count.why());
    }

    /**
     * Edges that no pulse made, for a part of a train that is even (each at 0.4 of a spacing, so
     * that only the first and the last of them leap): with them it scatters by more than an even
     * train may, but that is not its nature and excuses no leap.
     */
    @Test
    void aDisturbedPartOfAnEvenTrainIsNotItsNature() {
        Seeds.forSeeds(
                200,
                random -> {
                    long[] stamps = Trains.jittered(random, 100, 0.03, 3e6, 14e9);
                    int from = Trains.after(stamps, OPEN) + 100 + random.nextInt(500);
                    for (int i = 0; i < 130; i++) {
                        int at = from + 2 * i;
                        long stray = stamps[at] + (stamps[at + 1] - stamps[at]) * 2 / 5;
                        stamps = Trains.with(stamps, at + 1, stray);
                    }
                    PulseGate gate = Trains.flying(stamps, OPEN, CLOSE);
                    assertTrue(gate.inside().scatter() > PulseRule.EVEN_RATIO_MAX);
                    assertInstanceOf(PulseCount.Leaping.class, gate.flyingCount());
                });
    }

    /** So regular a loss would look like magnets that sit unevenly, had it not begun just now. */
    @Test
    void everyThirdPulseLostFromTheOpeningOnIsNotTheTrainsNature() {
        int opening = Trains.after(EVEN, OPEN);
        long[] stamps =
                IntStream.range(0, EVEN.length)
                        .filter(i -> i < opening || i % 3 > 0)
                        .mapToLong(i -> EVEN[i])
                        .toArray();
        assertInstanceOf(PulseCount.Leaping.class, flying(stamps));
    }

    /**
     * Trains that are uneven by nature, of any scatter, with the leaps that chance makes of it:
     * spacings that scatter by themselves, and pulses that are each off their place.
     */
    @Test
    void chanceLeapsOfAnUnevenTrainAreItsNature() {
        int[] refused = new int[1];
        int[] leapt = new int[1];
        int trains = 2_000;
        Seeds.forSeeds(
                trains,
                random -> {
                    double scatter = random.nextDouble(0.075, 0.3);
                    boolean displaced = random.nextBoolean();
                    long[] stamps = new long[1400];
                    double flow = 0;
                    for (int i = 0; i < stamps.length; i++) {
                        flow += Math.max(0.02, displaced ? 1 : random.nextGaussian(1, scatter));
                        double off = displaced ? random.nextGaussian(0, scatter / Math.sqrt(3)) : 0;
                        stamps[i] = Math.round(1e7 * (flow + off));
                    }
                    Arrays.sort(stamps);
                    PulseGate gate = Trains.flying(stamps, OPEN, CLOSE);
                    refused[0] += gate.flyingCount() instanceof PulseCount.Leaping ? 1 : 0;
                    leapt[0] += gate.inside().leaps() > 0 ? 1 : 0;
                });
        assertTrue(leapt[0] > trains / 2, leapt[0] + " of " + trains);
        assertTrue(refused[0] <= trains / 100, refused[0] + " of " + trains);
    }

    /**
     * The end of a double-timed window is as uncertain as one edge is off its place: with edges off
     * by an even spread of +-j, two ends scatter by j sqrt(2/3). Twice the stated sqrt(2) x scatter
     * must hold the truth in 95 % of trains, and does in nearly all: the change from one spacing to
     * the next scatters by more than an edge.
     */
    @Test
    void statedScatterCoversTheTruth() {
        int[] missed = new int[1];
        int trains = 1_000;
        Seeds.forSeeds(
                trains,
                random -> {
                    double phase = random.nextDouble();
                    long[] stamps = Trains.jittered(random, 100, 0.05, (1 + phase) * 1e7, 14e9);
                    PulseCount.DoubleTimed count =
                            assertInstanceOf(
                                    PulseCount.DoubleTimed.class,
                                    Trains.flying(stamps, OPEN, CLOSE).flyingCount());
                    double off = Math.abs(count.pulses() - 1000);
                    missed[0] += off > 2 * Math.sqrt(2) * count.scatter() ? 1 : 0;
                    assertTrue(off < 0.5, "off by " + off);
                });
        assertTrue(missed[0] <= trains / 20, missed[0] + " of " + trains);
    }

    // Windows that cannot be read

    @Test
    void aFlyingWindowWithoutItsEdgesIsRefused() {
        int opening = Trains.after(EVEN, OPEN);
        int closing = Trains.after(EVEN, CLOSE);
        assertUnusable(
                "no edge came before", flying(Arrays.copyOfRange(EVEN, opening, EVEN.length)));
        assertUnusable("no edge came after", flying(Arrays.copyOfRange(EVEN, 0, closing)));
        assertUnusable("no edge fell into", flying(Arrays.copyOfRange(EVEN, 0, opening)));
        assertUnusable("no edge fell into", flying(Arrays.copyOfRange(EVEN, closing, EVEN.length)));
        assertUnusable(
                "no edge fell into",
                PulseGate.idle(PulseRule.plain()).open(OPEN, false).close(CLOSE).flyingCount());
    }

    @Test
    void aWindowNeverOpenedOrClosedIsRefused() {
        PulseGate idle = PulseGate.idle(PulseRule.plain());
        assertUnusable("never both opened and closed", idle.flyingCount());
        assertUnusable("never both opened and closed", idle.standingCount(SECOND));
        assertUnusable("never both opened and closed", idle.open(OPEN, false).flyingCount());
        for (long close : new long[] {OPEN, OPEN - 1}) {
            assertUnusable("not after it opened", Trains.flying(EVEN, OPEN, close).flyingCount());
        }
    }

    @Test
    void edgesOutOfOrderAreRefused() {
        long[] stamps = EVEN.clone();
        stamps[600] = stamps[598];
        assertUnusable("out of order", flying(stamps));
        long[] back = EVEN.clone();
        int opening = Trains.after(EVEN, OPEN);
        back[opening + 5] = OPEN - 1;
        assertUnusable("out of order", flying(back));
        back[opening + 5] = EVEN[opening + 5];
        back[opening] = CLOSE + 1;
        assertUnusable("out of order", flying(back));
    }

    @Test
    void repeatedNumbersAreRefused() {
        EdgeBatch[] twice = {
            EdgeBatch.of(0, Arrays.copyOfRange(EVEN, 0, 600)),
            EdgeBatch.of(599, Arrays.copyOfRange(EVEN, 600, EVEN.length))
        };
        assertUnusable("repeated", flying(twice));
        EdgeBatch all = EdgeBatch.of(0, EVEN);
        assertUnusable("", flying(all, all));
    }

    /** Two edges of one stamp are two edges; their spacing of nothing leaps. */
    @Test
    void edgesOfOneStampLeap() {
        assertInstanceOf(PulseCount.Leaping.class, flying(Trains.with(EVEN, 600, EVEN[600])));
    }

    // Holding back

    @Test
    void tooManyEdgesHeldBackSpoilTheGate() {
        PulseGate gate = PulseGate.idle(PulseRule.plain()).await();
        long stamp = 0;
        long[] stamps = new long[1000];
        for (int batch = 0; batch <= PulseGate.HELD_EDGES_MAX / stamps.length; batch++) {
            for (int i = 0; i < stamps.length; i++) {
                stamps[i] = stamp += 10_000;
            }
            gate = gate.take(EdgeBatch.of((long) batch * stamps.length, stamps));
        }
        assertUnusable(
                "more than 400000 edges",
                gate.open(stamp / 4, false).close(stamp / 2).flyingCount());
    }

    /** As many single edges as may be held back: letting them go must not run out of stack. */
    @Test
    void aLongChainOfHeldEdgesIsReleased() {
        PulseGate gate = PulseGate.idle(PulseRule.plain()).await();
        for (int i = 0; i < PulseGate.HELD_EDGES_MAX; i++) {
            gate = gate.take(EdgeBatch.of(i, i * 50_000L));
        }
        long end = PulseGate.HELD_EDGES_MAX * 50_000L;
        gate = gate.open(1_000_000_010L, false).close(end - 10);
        gate = gate.take(EdgeBatch.of(PulseGate.HELD_EDGES_MAX, end));
        PulseCount.DoubleTimed count =
                assertInstanceOf(PulseCount.DoubleTimed.class, gate.flyingCount());
        assertEquals((end - 1_000_000_020L) / 50_000.0, count.pulses(), 1e-6);
    }

    @Test
    void edgesCountedBeforeTheirStampSpoilTheGate() {
        EdgeBatch train = EdgeBatch.of(0, EVEN);
        PulseGate idle = PulseGate.idle(PulseRule.plain());
        assertUnusable(
                "window's opening had been counted",
                idle.take(train).open(OPEN, false).close(CLOSE).flyingCount());
        assertUnusable(
                "window's closing had been counted",
                idle.open(OPEN, false).take(train).close(CLOSE).flyingCount());
    }

    // Splitting

    /** Any train, clean or faulty, cut anywhere, also while a stamp is awaited: the same count. */
    @Test
    void splittingATrainNeverChangesTheCount() {
        Seeds.forSeeds(
                1_500,
                random -> {
                    double hertz = random.nextDouble(2, 300);
                    double jitter = random.nextBoolean() ? 0 : random.nextDouble(0.3);
                    long[] stamps =
                            Trains.jittered(
                                    random,
                                    hertz,
                                    jitter,
                                    1e9 / hertz * random.nextDouble(1, 2),
                                    8e9);
                    long open = 2 * SECOND + random.nextLong(SECOND);
                    long close = 6 * SECOND + random.nextLong(SECOND);
                    if (random.nextInt(4) == 0) {
                        int at = random.nextInt(1, stamps.length);
                        stamps = Trains.with(stamps, at, stamps[at - 1] + random.nextLong(MILLI));
                    }
                    if (random.nextInt(4) == 0) {
                        stamps = Trains.without(stamps, random.nextInt(stamps.length));
                    }
                    List<EdgeBatch> train = List.of(EdgeBatch.of(7, stamps));
                    if (random.nextInt(4) == 0) {
                        int at = random.nextInt(1, stamps.length);
                        train =
                                List.of(
                                        EdgeBatch.of(7, Arrays.copyOf(stamps, at)),
                                        EdgeBatch.of(
                                                7 + at + random.nextInt(2),
                                                Arrays.copyOfRange(stamps, at, stamps.length)));
                    }
                    PulseRule rule = random.nextBoolean() ? DEBOUNCED : RANGED;
                    boolean rests = random.nextInt(3) == 0;
                    PulseGate whole = PulseGate.idle(rule).open(open, rests).close(close);
                    for (EdgeBatch batch : train) {
                        whole = whole.take(batch);
                    }
                    PulseGate pieces =
                            Trains.inPieces(
                                    random, PulseGate.idle(rule), train, open, close, rests);
                    assertEquals(whole.before(), pieces.before());
                    assertEquals(whole.inside(), pieces.inside());
                    assertEquals(whole.after(), pieces.after());
                    assertEquals(whole.flyingCount(), pieces.flyingCount());
                    assertEquals(whole.standingCount(SECOND), pieces.standingCount(SECOND));
                });
    }

    @Test
    void batchesAreChecked() {
        for (Runnable bad :
                List.<Runnable>of(
                        () -> EdgeBatch.of(0),
                        () -> EdgeBatch.of(0, new long[3], -1),
                        () -> EdgeBatch.of(0, new long[3], 4),
                        () -> EdgeBatch.of(-1, 5),
                        () -> EdgeBatch.of(0, -5),
                        () -> EdgeBatch.of(Long.MAX_VALUE, 5))) {
            assertThrows(IllegalArgumentException.class, bad::run);
        }
        long[] buffer = {1, 2, 3};
        EdgeBatch batch = EdgeBatch.of(Long.MAX_VALUE - 3, buffer);
        buffer[0] = 99;
        assertEquals(1, batch.firstNanos(), "the buffer was copied");
        assertEquals(Long.MAX_VALUE - 1, batch.lastSequence());
    }
}
