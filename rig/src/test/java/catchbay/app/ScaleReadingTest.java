package catchbay.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.port.Operator;
import catchbay.port.Source;
import catchbay.quantity.MassUnit;
import catchbay.run.CheckTask;
import catchbay.run.HuntTask;
import catchbay.run.Question;
import catchbay.run.RunInput;
import catchbay.run.ScaleTask;
import catchbay.run.SweepTask;
import catchbay.signal.ScaleFrame;

import org.junit.jupiter.api.Test;

import java.util.List;
import java.util.function.Consumer;
import java.util.function.DoubleFunction;

/**
 * A scale read between catches: ten frames a second of what the test says it shows, at rest after
 * 0.3 s within 0.01 kg. Everything about it is invented.
 */
final class ScaleReadingTest {

    private static final double FRAME_SECONDS = 0.1;

    private final PlayedBay bay = new PlayedBay();

    /** What the scale sends so many seconds after the start; null for nothing. */
    private DoubleFunction<ScaleFrame> shown = seconds -> kilograms(20, false);

    private boolean answering = true;
    private boolean stopping;

    private static ScaleFrame kilograms(double amount, boolean net) {
        return new ScaleFrame.Weight(amount, MassUnit.KILOGRAM, net, false);
    }

    private final class Scale implements Source {
        private int sent;

        @Override
        public void drain(Consumer<RunInput> into) {
            double now = (bay.nowNanos() - PlayedBay.START_NANOS) / 1e9;
            for (; sent * FRAME_SECONDS <= now; sent++) {
                double seconds = sent * FRAME_SECONDS;
                ScaleFrame frame = shown.apply(seconds);
                if (frame != null) {
                    long at = PlayedBay.START_NANOS + (long) (seconds * 1e9);
                    into.accept(new RunInput.Scale(at, frame));
                }
            }
        }

        @Override
        public void close() {
            // Nothing is held.
        }
    }

    private final class Hands implements Operator {
        private boolean asked;

        @Override
        public void ask(Question question) {
            throw new AssertionError("a test of the scale asks for loads only: " + question);
        }

        @Override
        public void ask(CheckTask task) {
            throw new AssertionError("a test of the scale asks for loads only: " + task.words());
        }

        @Override
        public void ask(ScaleTask task) {
            asked = true;
        }

        @Override
        public void ask(HuntTask task) {
            throw new AssertionError(task.words());
        }

        @Override
        public void ask(SweepTask task) {
            throw new AssertionError(task.words());
        }

        @Override
        public void drain(Consumer<RunInput> into) {
            if (asked && stopping) {
                into.accept(new RunInput.StopPressed(bay.nowNanos(), "A. Tester"));
            } else if (asked && answering) {
                asked = false;
                into.accept(new RunInput.Done(bay.nowNanos(), Question.LOAD_SCALE));
            }
        }

        @Override
        public void close() {
            // Nothing is held.
        }
    }

    private ScaleReading reading(StopSignal stop) {
        RunLoop.Ports ports =
                new RunLoop.Ports(
                        bay.time,
                        List.of(
                                new RunLoop.NamedSource("stop", stop),
                                new RunLoop.NamedSource("scale", new Scale())),
                        bay.ports().outputs(),
                        bay.ports().pulses(),
                        new Hands());
        return new ScaleReading(ports, PlayedBay.setup());
    }

    private double kilogramsRead() throws ScaleReading.Ended {
        try (StopSignal stop = StopSignal.listening(bay.time)) {
            return reading(stop).after(new ScaleTask.Empty()).kilograms();
        }
    }

    private void assertEnds(String sentence) {
        String told = assertThrows(ScaleReading.Ended.class, this::kilogramsRead).getMessage();
        assertTrue(told.contains(sentence), told);
    }

    /** It swings by 1 kg for two seconds, and none of that is in the reading. */
    @Test
    void onlyWhatIsShownAtRestIsRead() throws ScaleReading.Ended {
        shown = s -> kilograms(s < 2 ? 20 + Math.round(s * 10) % 2 : 20.5, false);
        assertEquals(20.5, kilogramsRead(), 1e-9);
        assertTrue(bay.nowNanos() >= PlayedBay.START_NANOS + 2_300_000_000L, "0.3 s of rest");
    }

    /** The load goes on 0.2 s after Enter: rest from before it is none of the new load's. */
    @Test
    void whoPressesEnterTooSoonIsReadAllTheSame() throws ScaleReading.Ended {
        shown = s -> kilograms(s < 1.2 ? 20 : 25, false);
        try (StopSignal stop = StopSignal.listening(bay.time)) {
            ScaleReading reading = reading(stop);
            assertEquals(20, reading.after(new ScaleTask.Empty()).kilograms(), 1e-9);
            while (bay.nowNanos() < PlayedBay.START_NANOS + 1_000_000_000L) {
                bay.time.sleepUntil(bay.nowNanos() + RunLoop.TURN_NANOS);
            }
            assertEquals(25, reading.after(new ScaleTask.Empty()).kilograms(), 1e-9);
        }
    }

    /** At rest from 0 s but for one frame without a weight at 0.2 s: 0.3 s of rest begin at 0.3. */
    @Test
    void aFrameWithoutAWeightBeginsTheRestAnew() throws ScaleReading.Ended {
        shown =
                s ->
                        Math.round(s * 10) == 2
                                ? new ScaleFrame.NoWeight("below zero")
                                : kilograms(20, false);
        assertEquals(20, kilogramsRead(), 1e-9);
        assertTrue(bay.nowNanos() >= PlayedBay.START_NANOS + 600_000_000L, "" + bay.nowNanos());
    }

    /** The second reading of a test is held to what the first showed. */
    @Test
    void aTareKeyPressedBetweenTwoReadingsEndsTheTest() throws ScaleReading.Ended {
        shown = s -> s < 1 ? kilograms(20, false) : kilograms(0, true);
        try (StopSignal stop = StopSignal.listening(bay.time)) {
            ScaleReading reading = reading(stop);
            assertEquals(20, reading.after(new ScaleTask.Empty()).kilograms(), 1e-9);
            bay.time.sleepUntil(PlayedBay.START_NANOS + 1_500_000_000L);
            String told =
                    assertThrows(
                                    ScaleReading.Ended.class,
                                    () -> reading.after(new ScaleTask.Empty()))
                            .getMessage();
            assertTrue(told.contains("changed between gross and net"), told);
        }
    }

    @Test
    void anotherUnitEndsTheTest() {
        shown = s -> new ScaleFrame.Weight(20, MassUnit.POUND, false, false);
        assertEnds("The scale sends lb, and scale.unit says kg.");
    }

    @Test
    void aScaleThatFallsSilentIsSaidToBe() {
        shown = s -> s < 0.15 ? new ScaleFrame.NoWeight("over capacity") : null;
        assertEnds("The scale sent no weight for 1.0 s (over capacity).");
    }

    @Test
    void aScaleThatNeverRestsEndsTheTest() {
        shown = s -> kilograms(20 + Math.round(s * 10) % 2, false);
        assertEnds("The scale did not come to rest within");
    }

    @Test
    void whoWalksAwayEndsTheTest() {
        answering = false;
        assertEnds("Nobody said that the scale is loaded within");
    }

    @Test
    void whoSaysStopEndsTheTest() {
        stopping = true;
        assertEnds("Ended by A. Tester.");
    }
}
