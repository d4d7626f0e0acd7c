use rules_core::{
    catalogue,
    check::{self, Options},
    document::Syntax,
    proposal::Proposal,
    ruleset::{Files, Rules},
};
fn main() {
    let args: Vec<String> = std::env::args().skip(1).collect();
    let names: Vec<&str> = args[0].split(',').collect();
    match Rules::load(&names, &Files, &catalogue()) {
        Err(problems) => problems.iter().for_each(|p| println!("{p}")),
        Ok(rules) => {
            let problems = check::vet(&rules);
            problems.iter().for_each(|p| println!("{p}"));
            println!("{} cautions {} problems {}", rules.cautions().len(), problems.len(), rules.digest());
            for file in &args[1..] {
                match Proposal::read(file, std::fs::read(file).unwrap(), Syntax::of_name(file)) {
                    Err(p) => p.iter().for_each(|p| println!("{p}")),
                    Ok(p) => match check::check(&rules, &p, Options::default()) {
                        Ok(r) => println!("{}", serde_json::to_string_pretty(&r).unwrap()),
                        Err(p) => p.iter().for_each(|p| println!("{p}")),
                    },
                }
            }
        }
    }
}
