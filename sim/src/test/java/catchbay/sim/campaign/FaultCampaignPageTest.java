package catchbay.sim.campaign;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.run.RunMachine;
import catchbay.sim.FaultKind;

import org.junit.jupiter.api.Test;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** The campaign's page tells of the method that the program has, and of every kind of fault. */
final class FaultCampaignPageTest {

    private static final Path PAGE = Path.of("..", "src", "docs", "fault-campaign.md");

    @Test
    void itsTablesAreOfThisMethod() throws IOException {
        Matcher version = Pattern.compile("Method version (\\d+)").matcher(Files.readString(PAGE));
        assertTrue(version.find(), "the page names no method version");
        assertEquals(
                RunMachine.METHOD_VERSION,
                Integer.parseInt(version.group(1)),
                "the tables were made by another method: run src/campaign and put its tables in");
    }

    @Test
    void everyKindOfFaultHasItsRow() throws IOException {
        String page = Files.readString(PAGE);
        for (FaultKind kind : FaultKind.values()) {
            assertTrue(page.contains("| `" + kind.key() + "`: " + kind.words()), kind.key());
        }
    }
}
