package catchbay.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.run.RunInput;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;

import java.util.ArrayList;
import java.util.List;

/** The wish that the program end becomes an input, and the program's end waits for the run's. */
@Timeout(60)
final class StopSignalTest {

    private final StopSignal signal = StopSignal.listening(new PlayedBay().time);

    private List<RunInput> drained() {
        List<RunInput> inputs = new ArrayList<>();
        signal.drain(inputs::add);
        return inputs;
    }

    @Test
    void theProgramsEndStopsTheRunOnceAndWaitsForIt() throws Exception {
        assertEquals(List.of(), drained());
        Thread ending = Thread.ofPlatform().start(signal::stopAndWait);
        List<RunInput> inputs = drained();
        while (inputs.isEmpty()) {
            Thread.sleep(2);
            inputs = drained();
        }
        assertEquals(
                List.of(
                        new RunInput.StopPressed(
                                PlayedBay.START_NANOS, "Ctrl-C or a signal to the program")),
                inputs);
        assertEquals(List.of(), drained(), "told once");
        assertTrue(ending.isAlive(), "the run is not closed yet");
        signal.close();
        ending.join();
        assertFalse(ending.isAlive());
    }

    @Test
    void aRunThatIsOverHoldsNoEndUp() throws Exception {
        signal.close();
        Thread ending = Thread.ofPlatform().start(signal::stopAndWait);
        assertTrue(ending.join(java.time.Duration.ofSeconds(1)), "it does not wait for its limit");
    }
}
