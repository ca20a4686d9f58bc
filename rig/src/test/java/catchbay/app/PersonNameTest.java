package catchbay.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

import java.util.Optional;

/** Names let things move: what somebody types who means the opposite is none. */
final class PersonNameTest {

    @ParameterizedTest
    @ValueSource(strings = {"M. Example", "Jo", "Zoë", "李雷", "O'Neil-Smith", "Nora", "Stefan"})
    void isAName(String typed) {
        assertEquals(Optional.empty(), PersonName.problem(typed));
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "",
                " ",
                "no",
                "NO!",
                "quit",
                "stop.",
                "stopp",
                "7",
                "x",
                "\u0001\u0002ab",
                "\u001b[31mred",
                "a\nb",
                "\ufffd\ufffdab",
                "exit"
            })
    void isNone(String typed) {
        assertTrue(PersonName.problem(typed).isPresent(), typed);
    }

    @ParameterizedTest
    @ValueSource(ints = {101, 3000})
    void isTooLong(int length) {
        assertTrue(PersonName.problem("a".repeat(length)).isPresent());
    }
}
