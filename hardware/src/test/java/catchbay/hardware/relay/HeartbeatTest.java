package catchbay.hardware.relay;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.app.RunLoop;
import catchbay.app.TraceLog;
import catchbay.hardware.clock.SystemTime;
import catchbay.port.Operator;
import catchbay.port.PortException;
import catchbay.port.PulseOutput;
import catchbay.port.Source;
import catchbay.port.Timekeeper;
import catchbay.run.BayCommand;
import catchbay.run.CheckTask;
import catchbay.run.HuntTask;
import catchbay.run.Outcome;
import catchbay.run.Question;
import catchbay.run.RunInput;
import catchbay.run.ScaleTask;
import catchbay.run.SweepTask;

import com.pi4j.io.gpio.digital.DigitalState;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;

import java.util.List;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.FutureTask;
import java.util.function.Consumer;

/** The line that a watchdog relay listens to, behind the program's own loop in real time. */
@Timeout(60)
final class HeartbeatTest {

    private static final long SECOND = 1_000_000_000;

    /** A second after which the loop counts as hung, a turn and a beat, and a slow machine. */
    private static final long HUNG_NANOS_MAX = 3 * SECOND;

    /** Hangs in a turn until it is let go, and then asks for the end of the run. */
    private static final class Hanging implements Source {
        private final long fromNanos;
        private final CountDownLatch hung = new CountDownLatch(1);
        private final CountDownLatch free = new CountDownLatch(1);

        Hanging(long fromNanos) {
            this.fromNanos = fromNanos;
        }

        @Override
        public void drain(Consumer<RunInput> into) throws PortException {
            if (System.nanoTime() < fromNanos) {
                return;
            }
            hung.countDown();
            try {
                free.await();
            } catch (InterruptedException interrupted) {
                throw new AssertionError(interrupted);
            }
            into.accept(new RunInput.StopPressed(System.nanoTime(), "the test"));
        }

        @Override
        public void close() {
            // Nothing is held.
        }
    }

    private static final class Nobody implements Operator {
        @Override
        public void ask(Question question) {
            // Never answered.
        }

        @Override
        public void ask(CheckTask task) {
            throw new AssertionError("no bay is checked");
        }

        @Override
        public void ask(ScaleTask task) {
            throw new AssertionError("no scale is tested");
        }

        @Override
        public void ask(HuntTask task) {
            throw new AssertionError("nothing is hunted for");
        }

        @Override
        public void ask(SweepTask task) {
            throw new AssertionError("no scale is tested");
        }

        @Override
        public void drain(Consumer<RunInput> into) {
            // Says nothing.
        }

        @Override
        public void close() {
            // Nothing is held.
        }
    }

    private static final class NoTrace implements TraceLog {
        @Override
        public void append(byte[] bytes, int from, int length, long atNanos) {
            // Not kept.
        }

        @Override
        public void requestSync() {
            // Nothing to bring onto a medium.
        }

        @Override
        public End seal(long atNanos, String end, String reason) {
            throw new AssertionError("the loop does not seal");
        }

        @Override
        public void drain(Consumer<RunInput> into) {
            // Never fails.
        }

        @Override
        public void close() {
            // Nothing is held.
        }
    }

    @Test
    void itBeatsWhileTheLoopTurnsAndStandsStillWhileItHangs() throws Exception {
        try (MockedBay bay = new MockedBay(Relay.values())) {
            long began = System.nanoTime();
            Hanging hanging = new Hanging(began + SECOND);
            RunLoop loop =
                    new RunLoop(
                            new RunLoop.Ports(
                                    (Timekeeper) new SystemTime().open(null),
                                    List.of(new RunLoop.NamedSource("hanging", hanging)),
                                    bay.relays,
                                    new NoPulses(),
                                    new Nobody()),
                            new NoTrace(),
                            (state, nowNanos) -> {});
            FutureTask<Outcome> run = new FutureTask<>(() -> loop.run(Bays.flowBy("operator")));
            Thread.ofPlatform().name("loop").start(run);
            hanging.hung.await();
            int whileTurning = bay.beats.size();
            assertTrue(whileTurning > 10, "beats in a second: " + whileTurning);
            assertEquals(DigitalState.HIGH, bay.level(Relay.LIGHT));

            long hung = System.nanoTime();
            Thread.sleep(HUNG_NANOS_MAX / 1_000_000);
            int whileHung = bay.beats.size();
            long stillAfter = bay.beats.getLast() - hung;
            assertTrue(stillAfter < HUNG_NANOS_MAX - SECOND, "stood still after " + stillAfter);
            Thread.sleep(500);
            assertEquals(whileHung, bay.beats.size(), "beats of a hung loop");

            hanging.free.countDown();
            assertInstanceOf(Outcome.Stopped.class, run.get());
            assertTrue(bay.allSafe());
            Thread.sleep(500);
            assertTrue(bay.beats.size() > whileHung, "a run that is over leaves the loop well");
        }
    }

    /** Nothing is asked of a loop before and between runs; the outputs are safe then. */
    @Test
    void itBeatsBeforeTheFirstRun() throws Exception {
        MockedBay left;
        try (MockedBay bay = new MockedBay(Relay.values())) {
            left = bay;
            Thread.sleep(2 * HUNG_NANOS_MAX / 3 / 1_000_000);
            assertTrue(System.nanoTime() - bay.beats.getLast() < SECOND);
            assertTrue(bay.allSafe());
        }
        assertEquals(DigitalState.LOW, left.level(Relay.HEARTBEAT));
        int atTheEnd = left.beats.size();
        Thread.sleep(200);
        assertEquals(atTheEnd, left.beats.size(), "beats of a closed port");
    }

    /** What cannot be stopped otherwise is stopped by the relay that the beats hold. */
    @Test
    void itEndsWhenSomethingElseCannotBeStopped() throws Exception {
        try (MockedBay bay = new MockedBay(Relay.values())) {
            bay.relays.letGo();
            assertEquals(DigitalState.LOW, bay.level(Relay.HEARTBEAT));
            int then = bay.beats.size();
            Thread.sleep(300);
            assertEquals(then, bay.beats.size());
        }
    }

    private record NoPulses() implements PulseOutput {
        @Override
        public void perform(BayCommand.Pulses command) {
            assertEquals(0, command.hertz(), "an operator starts this flow");
        }

        @Override
        public void drain(Consumer<RunInput> into) {
            // Nothing is sent.
        }

        @Override
        public boolean makeSafe() {
            // Nor is there anything to stop.
            return true;
        }

        @Override
        public void close() {
            // Nothing is held.
        }
    }
}
