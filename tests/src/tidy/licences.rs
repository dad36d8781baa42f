//! The licences, bans and sources of `.deny.toml`, held without a tool that takes minutes to build.

use std::collections::BTreeSet;

use super::{metadata, none, root, text};

/// The strings of `key = [ … ]` in `.deny.toml`.
fn list(config: &str, key: &str) -> Vec<String> {
    let start = format!("\n{key} = [");
    let body = config.split(start.as_str()).nth(1).and_then(|t| t.split(']').next());
    let body = body.unwrap_or_else(|| panic!(".deny.toml has a list called {key}"));
    body.split('"').skip(1).step_by(2).map(str::to_string).collect()
}

/// The words after `crate = ` in the list `key`, and the strings of its `allow`, if it has one.
fn crates(config: &str, key: &str) -> Vec<(String, Vec<String>)> {
    let from =
        config.find(&format!("\n{key} = [")).unwrap_or_else(|| panic!("{key} in .deny.toml"));
    let body = &config[from..];
    let body = &body[..body.find("\n\n").unwrap_or(body.len())];
    body.split("crate = \"")
        .skip(1)
        .map(|entry| {
            let quoted: Vec<&str> = entry.split('"').collect();
            let allow =
                entry.split("allow = [").nth(1).and_then(|t| t.split(']').next()).unwrap_or("");
            let allow = allow.split('"').skip(1).step_by(2).map(str::to_string).collect();
            (quoted[0].to_string(), allow)
        })
        .collect()
}

/// True when the licence expression can be met with `allowed` licences. AND binds before OR; the
/// old `/` means OR.
fn met(expression: &str, allowed: &BTreeSet<String>) -> bool {
    let text = expression.replace('/', " OR ").replace('(', " ( ").replace(')', " ) ");
    let words: Vec<&str> = text.split_whitespace().collect();
    let mut at = 0;
    let met = any(&words, &mut at, allowed);
    met && at == words.len()
}

fn any(words: &[&str], at: &mut usize, allowed: &BTreeSet<String>) -> bool {
    let mut met = all(words, at, allowed);
    while words.get(*at) == Some(&"OR") {
        *at += 1;
        met |= all(words, at, allowed);
    }
    met
}

fn all(words: &[&str], at: &mut usize, allowed: &BTreeSet<String>) -> bool {
    let mut met = one(words, at, allowed);
    while words.get(*at) == Some(&"AND") {
        *at += 1;
        met &= one(words, at, allowed);
    }
    met
}

fn one(words: &[&str], at: &mut usize, allowed: &BTreeSet<String>) -> bool {
    let Some(word) = words.get(*at) else { return false };
    *at += 1;
    if *word == "(" {
        let met = any(words, at, allowed);
        *at += 1;
        return met;
    }
    let mut licence = (*word).to_string();
    if words.get(*at) == Some(&"WITH") {
        licence += &format!(" WITH {}", words.get(*at + 1).unwrap_or(&""));
        *at += 2;
    }
    allowed.contains(&licence)
}

#[test]
fn licence_expressions_are_read_as_written() {
    let allowed = BTreeSet::from(["MIT".to_string(), "Apache-2.0 WITH LLVM-exception".to_string()]);
    assert!(
        met("MIT", &allowed) && met("GPL-3.0 OR MIT", &allowed) && met("Apache-2.0/MIT", &allowed)
    );
    assert!(met("Apache-2.0 WITH LLVM-exception AND MIT", &allowed));
    assert!(
        !met("MIT AND GPL-3.0", &allowed) && !met("Apache-2.0", &allowed) && !met("", &allowed)
    );
    assert!(
        met("(GPL-3.0 AND MIT) OR MIT", &allowed) && !met("(MIT OR GPL-3.0) AND ISC", &allowed)
    );
}

#[test]
fn dependencies_keep_to_the_licences_bans_and_sources() {
    let config = text(&root().join(".deny.toml"));
    let allowed: BTreeSet<String> = list(&config, "allow").into_iter().collect();
    let exceptions = crates(&config, "exceptions");
    let banned = crates(&config, "deny");
    let sources: Vec<String> =
        list(&config, "allow-registry").into_iter().map(|s| format!("registry+{s}")).collect();
    assert!(allowed.contains("MIT") && !banned.is_empty() && sources.len() == 1);
    let metadata = metadata(&[]);
    let packages = metadata["packages"].as_array().expect("packages");
    assert!(packages.len() > 100, "all dependencies are listed");
    let mut wrong = Vec::new();
    for package in packages {
        let (name, licence) =
            (package["name"].as_str().expect("a name"), package["license"].as_str());
        let mut allowed = allowed.clone();
        allowed.extend(exceptions.iter().filter(|(c, _)| c == name).flat_map(|(_, l)| l.clone()));
        if !licence.is_some_and(|l| met(l, &allowed)) {
            wrong.push(format!("{name}: licence {}", licence.unwrap_or("not stated")));
        }
        if banned.iter().any(|(b, _)| b == name) {
            wrong.push(format!("{name} is banned"));
        }
        // The project's own crates have no source.
        let source = package["source"].as_str().unwrap_or(&sources[0]);
        if !sources.iter().any(|s| s == source) {
            wrong.push(format!("{name} comes from {source}"));
        }
    }
    none(&wrong, "see .deny.toml:");
}
