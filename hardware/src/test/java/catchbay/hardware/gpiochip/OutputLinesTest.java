package catchbay.hardware.gpiochip;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import org.junit.jupiter.api.Test;

/** What outputs refuse without a chip; their levels are proven in the kernel guest. */
final class OutputLinesTest {

    @Test
    void anOutputThatIsNotThereHasNoLevel() {
        OutputLines outputs =
                new OutputLines(new LineRequest("none", -1, new Kernel()), new int[] {3});
        assertEquals(
                "line 4 is none of the outputs held",
                assertThrows(IllegalArgumentException.class, () -> outputs.set(4, true))
                        .getMessage());
    }
}
