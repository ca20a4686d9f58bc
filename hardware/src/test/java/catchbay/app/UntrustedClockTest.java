package catchbay.app;

import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;

/** A computer whose clock nobody has set: whatever has a day says that the day may be wrong. */
final class UntrustedClockTest {

    private static final String DOUBT = "clock of the bay's computer is not to be trusted";

    @TempDir Path folder;

    @BeforeEach
    void bayWhoseClockIsUnset() throws IOException {
        String example = Files.readString(Path.of("../src/examples/full-bay.toml"));
        Files.writeString(
                folder.resolve("bay.toml"),
                example.replace("provider = \"system\"", "provider = \"virtual\"")
                        + """
                        [port.computer]
                        provider = "stand-in"
                        clock_doubts = ["unset"]
                        [scale_test]
                        weights = [ { name = "a", mass_kg = 20, uncertainty_g = 1 } ]
                        """);
        Files.writeString(
                folder.resolve("plan.toml"),
                """
                truck = "T-12"
                wanted_percent = 2
                points = [ { speed_mph = 20 } ]
                catch.seconds = 60
                tank = { room_us_gal = 60, drained = "each", drain_seconds = 60 }
                """);
    }

    private CommandLineRun run(String command, String... more) {
        String named = command.replace("PLAN", folder.resolve("plan.toml").toString());
        return CommandLineRun.of(
                Stream.of(
                                List.of(named.split(" ")),
                                List.of("-s", folder.resolve("bay.toml").toString()),
                                List.of(more))
                        .flatMap(List::stream)
                        .toArray(String[]::new));
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "catch -t T-12",
                "catch -t T-12 --repeats",
                "sweep PLAN --anew",
                "hunt low -t T-12 --reference small",
                "plan PLAN",
                "due",
                "leak",
                "weights",
                "shunt",
                "checkup --alone"
            })
    void isToldOnEveryPage(String command) {
        String page = String.join(" ", run(command).output().split("\\s+"));
        assertTrue(
                page.contains(DOUBT) || page.contains("nobody has set it since the start"), page);
    }

    @ParameterizedTest
    @ValueSource(strings = {"sweep PLAN --anew", "leak", "plan PLAN", "due"})
    void isToldBesideAnObjectThatHasNoPlaceForIt(String command) {
        CommandLineRun json = run(command, "--json");
        assertTrue(json.output().startsWith("{"), json.errors());
        assertFalse(json.output().contains(DOUBT));
        assertTrue(json.errors().contains(DOUBT), json.errors());
    }
}
