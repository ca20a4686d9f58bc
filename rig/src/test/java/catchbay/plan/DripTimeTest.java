package catchbay.plan;

import static org.junit.jupiter.api.Assertions.assertEquals;

import catchbay.quantity.Volume;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

import java.util.Optional;

/**
 * Measurement Canada, field inspection manual, volumetric measuring devices, part 4, section 22.
 */
final class DripTimeTest {

    @ParameterizedTest
    @CsvSource({
        "4, 10",
        "5, 10",
        "5.1, 20",
        "20, 20",
        "21, 60",
        "500, 60",
        "501, 120",
        "5000, 120",
        "5001, 180",
        "15000, 180"
    })
    void published(double litres, long seconds) {
        assertEquals(
                Optional.of(seconds * 1_000_000_000L), DripTime.publishedNanos(new Volume(litres)));
    }

    @ParameterizedTest
    @CsvSource({"15001", "1e6"})
    void nothingIsPublishedBeyond(double litres) {
        assertEquals(Optional.empty(), DripTime.publishedNanos(new Volume(litres)));
    }
}
